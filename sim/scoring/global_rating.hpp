// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// What people who watched an examination made of it as a whole, in five grades: for borderline
// regression. Kept beside the marks and never added to them; given from the replay, by somebody who
// does not know the mark. JSON:
//   {"format": "redress-ratings", "version": 1,
//    "ratings": [{"rating": "borderline", "by": "assessor 2", "remark": "..."}, ...]}
#pragma once

#include <cstdint>
#include <nlohmann/json.hpp>
#include <string>
#include <string_view>
#include <vector>

#include "sim/basics/problem.hpp"

namespace redress::scoring {

enum class Rating : std::uint8_t { fail, borderline, pass, good, excellent };

struct GlobalRating {
  Rating rating = Rating::fail;
  std::string by;
  std::string remark;
};

Result<std::vector<GlobalRating>> read_ratings_text(std::string_view text);

/// The list as in the file.
nlohmann::json to_json(const std::vector<GlobalRating>& ratings);

}  // namespace redress::scoring
