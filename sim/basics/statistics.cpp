// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/basics/statistics.hpp"

#include <vector>

#include "sim/basics/distributions.hpp"
#include "sim/basics/elementary.hpp"

namespace redress {

using elementary::square_root;

namespace {

double square(double x) { return x * x; }

}  // namespace

double calc_mean(std::span<const double> values) {
  if (values.empty()) return 0.0;
  double sum = 0.0;
  for (const double v : values) sum += v;
  return sum / static_cast<double>(values.size());
}

double calc_sum_of_squares(std::span<const double> values) {
  const double mean = calc_mean(values);
  double sum = 0.0;
  for (const double v : values) sum += square(v - mean);
  return sum;
}

double calc_deviation(std::span<const double> values) {
  if (values.size() < 2) return 0.0;
  return square_root(calc_sum_of_squares(values) / static_cast<double>(values.size() - 1));
}

std::optional<BlandAltman> calc_bland_altman(std::span<const double> first,
                                             std::span<const double> second) {
  if (first.size() != second.size() || first.size() < 2) return std::nullopt;
  std::vector<double> differences;
  for (std::size_t i = 0; i < first.size(); ++i) differences.push_back(first[i] - second[i]);
  BlandAltman out;
  out.count = differences.size();
  out.bias = calc_mean(differences);
  out.deviation = calc_deviation(differences);
  const auto n = static_cast<double>(out.count);
  const double t = calc_t_quantile(0.975, n - 1.0);
  const double of_bias = t * out.deviation / square_root(n);
  const double of_limit = t * out.deviation * square_root(3.0 / n);
  const double half = kNormal95 * out.deviation;
  out.limits = {out.bias - half, out.bias + half};
  out.bias_interval = {out.bias - of_bias, out.bias + of_bias};
  out.lower_limit_interval = {out.limits.low - of_limit, out.limits.low + of_limit};
  out.upper_limit_interval = {out.limits.high - of_limit, out.limits.high + of_limit};
  return out;
}

std::optional<Line> calc_line(std::span<const double> x, std::span<const double> y) {
  if (x.size() != y.size() || x.size() < 3) return std::nullopt;
  Line line;
  line.count = x.size();
  line.mean_x = calc_mean(x);
  line.sum_xx = calc_sum_of_squares(x);
  if (!(line.sum_xx > 0.0)) return std::nullopt;
  const double mean_y = calc_mean(y);
  double sum_xy = 0.0;
  for (std::size_t i = 0; i < x.size(); ++i) sum_xy += (x[i] - line.mean_x) * (y[i] - mean_y);
  line.slope = sum_xy / line.sum_xx;
  line.intercept = mean_y - line.slope * line.mean_x;
  double residual = 0.0;
  for (std::size_t i = 0; i < x.size(); ++i) {
    residual += square(y[i] - line.intercept - line.slope * x[i]);
  }
  const double sum_yy = calc_sum_of_squares(y);
  line.r_squared = sum_yy > 0.0 ? 1.0 - residual / sum_yy : 0.0;
  line.residual_sd = square_root(residual / static_cast<double>(x.size() - 2));
  return line;
}

double calc_line_error(const Line& line, double x) {
  return line.residual_sd *
         square_root(1.0 / static_cast<double>(line.count) + square(x - line.mean_x) / line.sum_xx);
}

Interval calc_share_interval(std::size_t successes, std::size_t trials) {
  if (trials == 0) return {0.0, 1.0};
  const auto n = static_cast<double>(trials);
  const double p = static_cast<double>(successes) / n;
  const double z2 = kNormal95 * kNormal95;
  const double middle = (p + z2 / (2.0 * n)) / (1.0 + z2 / n);
  const double half =
      kNormal95 / (1.0 + z2 / n) * square_root(p * (1.0 - p) / n + z2 / (4.0 * n * n));
  return {middle - half, middle + half};
}

}  // namespace redress
