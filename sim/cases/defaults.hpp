// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The healthy young adult that a case starts from, and where each value comes from.
#pragma once

#include <string>
#include <string_view>

#include "sim/cases/case.hpp"

namespace redress {

/// Every value that a case may leave out. The title is empty.
Case make_healthy_case();

/// Source of the default at a JSON pointer; empty when there is none (required keys).
std::string_view find_default_source(std::string_view pointer);

}  // namespace redress
