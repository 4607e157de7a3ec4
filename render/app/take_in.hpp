// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// What workstations kept, from a folder into the store: the window's hand-in.
#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "sim/assessment/keys.hpp"
#include "sim/assessment/store.hpp"

namespace redress::app {

struct TakenIn {
  std::size_t added = 0;
  std::vector<std::string> remarks;  ///< what was left out and why
};
/// All stations of `circuit` in `folder`; what is there already counts once. Those that were cut
/// short may still go on at a workstation: they are taken if `cut_short_too`.
TakenIn take_in(assessment::Store& store, const assessment::CircuitId& circuit,
                const std::string& folder, bool cut_short_too);

}  // namespace redress::app
