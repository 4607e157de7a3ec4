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

#include "sim/basics/statistics.hpp"

namespace redress::assessment {

using Table = std::vector<std::vector<double>>;

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

}  // namespace redress::assessment
