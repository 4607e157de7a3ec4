// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/assessment/statistics.hpp"

#include <algorithm>

#include "sim/basics/elementary.hpp"

namespace redress::assessment {

using elementary::square_root;

namespace {

double square(double x) { return x * x; }

std::vector<double> column(const Table& table, std::size_t item) {
  std::vector<double> values;
  values.reserve(table.size());
  for (const auto& row : table) values.push_back(row[item]);
  return values;
}

bool is_table(const Table& table) { return table.size() >= 2 && table.front().size() >= 2; }

}  // namespace

std::optional<double> calc_correlation(std::span<const double> x, std::span<const double> y) {
  if (x.size() != y.size() || x.size() < 2) return std::nullopt;
  const double mean_x = calc_mean(x);
  const double mean_y = calc_mean(y);
  double sum = 0.0;
  for (std::size_t i = 0; i < x.size(); ++i) sum += (x[i] - mean_x) * (y[i] - mean_y);
  const double below = calc_sum_of_squares(x) * calc_sum_of_squares(y);
  if (!(below > 0.0)) return std::nullopt;
  return sum / square_root(below);
}

std::vector<double> calc_row_means(const Table& table) {
  std::vector<double> means;
  means.reserve(table.size());
  for (const auto& row : table) means.push_back(calc_mean(row));
  return means;
}

std::optional<double> calc_alpha(const Table& table) {
  if (!is_table(table)) return std::nullopt;
  const auto k = static_cast<double>(table.front().size());
  double items = 0.0;
  for (std::size_t i = 0; i < table.front().size(); ++i)
    items += calc_sum_of_squares(column(table, i));
  const double persons = calc_sum_of_squares(calc_row_means(table)) * k * k;
  if (!(persons > 0.0)) return std::nullopt;
  return k / (k - 1.0) * (1.0 - items / persons);
}

std::optional<double> calc_alpha_without(const Table& table, std::size_t item) {
  if (!is_table(table)) return std::nullopt;
  Table rest = table;
  for (auto& row : rest) row.erase(row.begin() + static_cast<std::ptrdiff_t>(item));
  return calc_alpha(rest);
}

std::optional<double> calc_discrimination(const Table& table, std::size_t item) {
  if (!is_table(table)) return std::nullopt;
  std::vector<double> others;
  for (const auto& row : table) {
    double sum = 0.0;
    for (std::size_t i = 0; i < row.size(); ++i) sum += i == item ? 0.0 : row[i];
    others.push_back(sum);
  }
  return calc_correlation(column(table, item), others);
}

std::optional<Components> calc_components(const Table& table) {
  if (!is_table(table)) return std::nullopt;
  const auto n = static_cast<double>(table.size());
  const auto k = static_cast<double>(table.front().size());
  const std::vector<double> persons = calc_row_means(table);
  std::vector<double> items;
  for (std::size_t i = 0; i < table.front().size(); ++i) {
    items.push_back(calc_mean(column(table, i)));
  }
  const double mean = calc_mean(persons);
  double residual = 0.0;
  double within = 0.0;
  for (std::size_t p = 0; p < table.size(); ++p) {
    for (std::size_t i = 0; i < items.size(); ++i) {
      residual += square(table[p][i] - persons[p] - items[i] + mean);
      within += square(table[p][i] - persons[p]);
    }
  }
  Components c;
  c.item_count = items.size();
  c.between_ms = k * calc_sum_of_squares(persons) / (n - 1.0);
  c.items_ms = n * calc_sum_of_squares(items) / (k - 1.0);
  c.residual_ms = residual / ((n - 1.0) * (k - 1.0));
  c.within_ms = within / (n * (k - 1.0));
  c.residual = c.residual_ms;
  c.persons = std::max(0.0, (c.between_ms - c.residual_ms) / k);
  c.items = std::max(0.0, (c.items_ms - c.residual_ms) / n);
  return c;
}

double calc_generalisability(const Components& c, double items) {
  const double all = c.persons + c.residual / items;
  return all > 0.0 ? c.persons / all : 0.0;
}

double calc_dependability(const Components& c, double items) {
  const double all = c.persons + (c.items + c.residual) / items;
  return all > 0.0 ? c.persons / all : 0.0;
}

std::optional<std::size_t> find_items_for(const Components& c, double wanted) {
  constexpr std::size_t kMostItems = 1000;
  for (std::size_t n = 1; n <= kMostItems; ++n) {
    if (calc_generalisability(c, static_cast<double>(n)) >= wanted) return n;
  }
  return std::nullopt;
}

Intraclass calc_intraclass(const Components& c, std::size_t persons) {
  const auto n = static_cast<double>(persons);
  const auto k = static_cast<double>(c.item_count);
  const double b = c.between_ms;
  const double w = c.within_ms;
  const double j = c.items_ms;
  const double e = c.residual_ms;
  Intraclass icc;
  icc.one = (b - w) / (b + (k - 1.0) * w);
  icc.two = (b - e) / (b + (k - 1.0) * e + k * (j - e) / n);
  icc.three = (b - e) / (b + (k - 1.0) * e);
  icc.one_k = (b - w) / b;
  icc.two_k = (b - e) / (b + (j - e) / n);
  icc.three_k = (b - e) / b;
  return icc;
}

std::optional<double> calc_weighted_kappa(const Table& counts, const Table& disagreement) {
  const std::size_t k = counts.size();
  std::vector<double> rows(k, 0.0);
  std::vector<double> columns(k, 0.0);
  double total = 0.0;
  for (std::size_t r = 0; r < k; ++r) {
    for (std::size_t c = 0; c < k; ++c) {
      rows[r] += counts[r][c];
      columns[c] += counts[r][c];
      total += counts[r][c];
    }
  }
  if (!(total > 0.0)) return std::nullopt;
  double observed = 0.0;
  double chance = 0.0;
  for (std::size_t r = 0; r < k; ++r) {
    for (std::size_t c = 0; c < k; ++c) {
      observed += disagreement[r][c] * counts[r][c] / total;
      chance += disagreement[r][c] * rows[r] * columns[c] / (total * total);
    }
  }
  if (!(chance > 0.0)) return std::nullopt;
  return 1.0 - observed / chance;
}

namespace {

template <class Distance>
Table make_weights(std::size_t categories, Distance distance) {
  Table weights(categories, std::vector<double>(categories));
  for (std::size_t r = 0; r < categories; ++r) {
    for (std::size_t c = 0; c < categories; ++c) {
      weights[r][c] = distance(static_cast<double>(r > c ? r - c : c - r));
    }
  }
  return weights;
}

}  // namespace

std::optional<double> calc_kappa(const Table& counts) {
  return calc_weighted_kappa(
      counts, make_weights(counts.size(), [](double apart) { return apart > 0.0 ? 1.0 : 0.0; }));
}
Table make_linear_weights(std::size_t categories) {
  return make_weights(categories, [](double apart) { return apart; });
}
Table make_quadratic_weights(std::size_t categories) {
  return make_weights(categories, [](double apart) { return apart * apart; });
}

}  // namespace redress::assessment
