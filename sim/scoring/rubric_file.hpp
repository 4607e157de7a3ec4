// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// A rubric's weights as an educator writes them, JSON (assets/rubrics/rubric.schema.json):
//   {"format": "redress-rubric", "version": 1, "title": "Second year",
//    "pass": {"P": 60, "O": 50},
//    "weights": {"A1": {"P": 5, "O": 4}, ... every item once ...}}
// Each column comes to 100. What the items mean is not data: sim/scoring/rubric.hpp.
#pragma once

#include <nlohmann/json.hpp>
#include <string_view>

#include "sim/basics/problem.hpp"
#include "sim/scoring/rubric.hpp"

namespace redress::scoring {

/// All problems, each with its place.
Result<Rubric> read_rubric_text(std::string_view text);

nlohmann::ordered_json to_json(const Rubric& rubric);

}  // namespace redress::scoring
