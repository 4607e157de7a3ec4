// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// What a drawn case is for: goal, level, what makes such a patient different, two look-alikes with
// the sign that tells them apart, tests and plan that are expected. Textbook knowledge, from
// memory, where no source is named.
#pragma once

#include <string_view>

#include <nlohmann/json.hpp>

namespace redress::program {

/// Into `teaching` and `expected`; nothing for people as they come, of whom nothing is expected.
/// `difficulty` 0 easy to 1 hard gives the level, 1 to 5.
void write_teaching(std::string_view kind_word, double difficulty, nlohmann::json& out);

}  // namespace redress::program
