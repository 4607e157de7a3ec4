// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The truth in two halves of pieces that do not need one another, for whoever has several
// processors or wants to see the first half first. What comes out is that of calc_truth, in
// whatever order the pieces are computed.
#pragma once

#include <cstddef>
#include <functional>

#include "sim/truth/truth.hpp"

namespace redress::truth {

/// Calls work(0) ... work(count - 1), each once, in any order and on any thread.
using Spread = std::function<void(std::size_t count, const std::function<void(std::size_t)>& work)>;

/// Conditions, reading, gazes and head tilts, comitance. The diagnosis is not named yet.
Truth calc_deviations(const ExaminationSetup& setup, Distances distances, const Extent& extent,
                      const Spread& spread);

/// All the rest, and the name that it comes to.
void add_procedures(const ExaminationSetup& setup, const Extent& extent, const Spread& spread,
                    Truth& truth);

}  // namespace redress::truth
