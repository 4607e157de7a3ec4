// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Statistics that more than one room needs: means and spreads, how two measurements agree, a line
// through points, a share and its interval. Intervals are of 95 %. What is not there cannot be
// computed from so few, or from values that do not vary.
#pragma once

#include <cstddef>
#include <optional>
#include <span>

namespace redress {

double calc_mean(std::span<const double> values);
/// Of the distances from their mean.
double calc_sum_of_squares(std::span<const double> values);
/// Of a sample, n - 1 below; 0 of fewer than two.
double calc_deviation(std::span<const double> values);
struct Interval {
  double low = 0.0;
  double high = 0.0;
};
/// Bland & Altman 1986: differences `first` - `second`. Limits bias +- 1.96 SD; intervals 95 %, by
/// t with n - 1, standard error of a limit sqrt(3 s^2 / n).
struct BlandAltman {
  std::size_t count = 0;
  double bias = 0.0;
  double deviation = 0.0;
  Interval limits;
  Interval bias_interval;
  Interval lower_limit_interval;
  Interval upper_limit_interval;
};
std::optional<BlandAltman> calc_bland_altman(std::span<const double> first,
                                             std::span<const double> second);

/// Least squares y = intercept + slope x.
struct Line {
  double intercept = 0.0;
  double slope = 0.0;
  double r_squared = 0.0;
  double residual_sd = 0.0;  ///< n - 2 below
  std::size_t count = 0;
  double mean_x = 0.0;
  double sum_xx = 0.0;  ///< of squares about the mean
};
std::optional<Line> calc_line(std::span<const double> x, std::span<const double> y);
/// Standard error of the line's height at x.
double calc_line_error(const Line& line, double x);

/// Wilson 1927, 95 %.
Interval calc_share_interval(std::size_t successes, std::size_t trials);

}  // namespace redress
