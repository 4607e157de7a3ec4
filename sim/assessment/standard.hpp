// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Where the line is drawn: fixed, by judges beforehand (modified Angoff), or from global ratings
// afterwards (borderline regression). Marks 0 ... 100.
#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <span>
#include <string_view>
#include <vector>

#include "sim/assessment/circuit.hpp"
#include "sim/assessment/statistics.hpp"

namespace redress::assessment {

/// Given by a person, from the replay, without seeing the marks.
enum class GlobalRating : std::uint8_t { fail, borderline, pass, good, excellent };
inline constexpr std::array<std::string_view, 5> kRatingNames{"fail", "borderline", "pass", "good",
                                                              "excellent"};

struct Cut {
  double mark = 0.0;
  std::optional<double> error;  ///< standard error; none of a fixed line
};

/// One row a judge, one figure an item: what a minimally competent candidate would earn, percent of
/// the item's marks, all items alike. Their mean, and its error from the spread between judges.
/// None without judges.
std::optional<Cut> calc_angoff_cut(const Table& judges);

/// Marks regressed on ratings 0 ... 4, read off at "borderline". None with fewer than three, or
/// where all ratings are alike or the better rated did not have more marks.
struct Regression {
  Cut cut;
  Line line;
};
std::optional<Regression> calc_borderline_cut(std::span<const GlobalRating> ratings,
                                              std::span<const double> marks);

/// The circuit's line from its stations': their mean; errors add as independent ones.
Cut combine_cuts(std::span<const Cut> stations);

}  // namespace redress::assessment
