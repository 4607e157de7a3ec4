// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/assessment/standard.hpp"

#include "sim/basics/elementary.hpp"

namespace redress::assessment {

std::optional<Cut> calc_angoff_cut(const Table& judges) {
  if (judges.empty() || judges.front().empty()) return std::nullopt;
  const std::vector<double> means = calc_row_means(judges);
  Cut cut{calc_mean(means), std::nullopt};
  if (means.size() >= 2) {
    cut.error = calc_deviation(means) / elementary::square_root(static_cast<double>(means.size()));
  }
  return cut;
}

std::optional<Regression> calc_borderline_cut(std::span<const GlobalRating> ratings,
                                              std::span<const double> marks) {
  std::vector<double> x;
  x.reserve(ratings.size());
  for (const GlobalRating r : ratings) x.push_back(static_cast<double>(r));
  const std::optional<Line> line = calc_line(x, marks);
  if (!line || !(line->slope > 0.0)) return std::nullopt;
  const auto at = static_cast<double>(GlobalRating::borderline);
  return Regression{{line->intercept + line->slope * at, calc_line_error(*line, at)}, *line};
}

Cut combine_cuts(std::span<const Cut> stations) {
  Cut out;
  if (stations.empty()) return out;
  const auto n = static_cast<double>(stations.size());
  double squares = 0.0;
  bool errors = true;
  for (const Cut& cut : stations) {
    out.mark += cut.mark / n;
    errors = errors && cut.error.has_value();
    squares += cut.error.value_or(0.0) * cut.error.value_or(0.0);
  }
  if (errors) out.error = elementary::square_root(squares) / n;
  return out;
}

}  // namespace redress::assessment
