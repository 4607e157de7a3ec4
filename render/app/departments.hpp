// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The departments whose codes can be shown on the card: those that ship (examples) and those in the
// user's own folder.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "sim/findings/department.hpp"

namespace redress::app {

/// assets/departments beside or above the program or in the source tree, then departments/ of the
/// user's folder, each by name. A file that cannot be read is left out: `redress validate` says
/// why.
std::vector<findings::Department> read_departments(const std::string& program_folder,
                                                   const std::string& config_folder);

/// By its title; none: not among them.
std::optional<std::size_t> find_department(const std::vector<findings::Department>& all,
                                           const std::string& title);

}  // namespace redress::app
