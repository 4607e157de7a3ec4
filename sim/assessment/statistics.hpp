// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Statistics of an assessment. A table is persons by items (stations, or raters): one row a person,
// all rows as long, no gaps. Two persons and two items at the least unless said; with less, or
// where nothing varies, a coefficient is not there.
#pragma once

#include <cstddef>
#include <optional>
#include <span>
#include <vector>

namespace redress::assessment {

using Table = std::vector<std::vector<double>>;

double calc_mean(std::span<const double> values);
/// Of a sample, n - 1 below; 0 of fewer than two.
double calc_deviation(std::span<const double> values);
std::optional<double> calc_correlation(std::span<const double> x, std::span<const double> y);
std::vector<double> calc_row_means(const Table& table);

/// Cronbach 1951.
std::optional<double> calc_alpha(const Table& table);
/// Alpha of the table without one item.
std::optional<double> calc_alpha_without(const Table& table, std::size_t item);
/// Correlation of an item with the sum of the others.
std::optional<double> calc_discrimination(const Table& table, std::size_t item);

/// Two-way analysis of variance, one observation a cell: mean squares, and the variance components
/// of a persons by items design (negative estimates become 0).
struct Components {
  double between_ms = 0.0;  ///< persons
  double within_ms = 0.0;   ///< items and residual together
  double items_ms = 0.0;
  double residual_ms = 0.0;
  double persons = 0.0;  ///< variance of persons
  double items = 0.0;
  double residual = 0.0;
  std::size_t item_count = 0;
};
std::optional<Components> calc_components(const Table& table);

/// Generalisability for comparing persons, and dependability (Phi) for an absolute line, with this
/// many items (Brennan 2001, from memory).
double calc_generalisability(const Components& c, double items);
double calc_dependability(const Components& c, double items);
/// The smallest number of items whose generalisability reaches `wanted`; none: more than 1000.
std::optional<std::size_t> find_items_for(const Components& c, double wanted);

/// Shrout & Fleiss 1979, by their names: (1,1), (2,1), (3,1), and of the mean of k.
struct Intraclass {
  double one = 0.0, two = 0.0, three = 0.0;
  double one_k = 0.0, two_k = 0.0, three_k = 0.0;
};
Intraclass calc_intraclass(const Components& c, std::size_t persons);

/// Cohen 1968: agreement of two raters over categories, rows the first, columns the second; any
/// unit. `disagreement` has 0 where they agree; kappa without weights has 1 everywhere else. None:
/// chance alone would agree.
std::optional<double> calc_kappa(const Table& counts);
std::optional<double> calc_weighted_kappa(const Table& counts, const Table& disagreement);
Table make_linear_weights(std::size_t categories);
Table make_quadratic_weights(std::size_t categories);

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

}  // namespace redress::assessment
