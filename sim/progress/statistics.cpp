// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/progress/statistics.hpp"

#include "sim/basics/elementary.hpp"

namespace redress::progress {

using elementary::square_root;

namespace {

constexpr double kNormal975 = 1.959963984540054;

Interval around(double value, double half) { return {value, value - half, value + half}; }

}  // namespace

Interval calc_wilson(std::size_t taken, std::size_t chances) {
  if (chances == 0) return {0, 0, 1};
  const auto n = static_cast<double>(chances);
  const double p = static_cast<double>(taken) / n;
  const double z2 = kNormal975 * kNormal975;
  const double middle = (p + z2 / (2 * n)) / (1 + z2 / n);
  const double half = kNormal975 * square_root(p * (1 - p) / n + z2 / (4 * n * n)) / (1 + z2 / n);
  return {p, taken == 0 ? 0.0 : middle - half, taken == chances ? 1.0 : middle + half};
}

double student_t_975(std::size_t degrees) {
  if (degrees <= 1) return 12.706204736174698;
  if (degrees == 2) return 4.302652729911275;
  if (degrees == 3) return 3.182446305284263;
  const double n = static_cast<double>(degrees);
  const double z = kNormal975;
  const double z2 = z * z;
  const double g1 = z * (z2 + 1) / 4;
  const double g2 = z * ((5 * z2 + 16) * z2 + 3) / 96;
  const double g3 = z * (((3 * z2 + 19) * z2 + 17) * z2 - 15) / 384;
  const double g4 = z * ((((79 * z2 + 776) * z2 + 1482) * z2 - 1920) * z2 - 945) / 92160;
  return z + (g1 + (g2 + (g3 + g4 / n) / n) / n) / n;
}

std::optional<Agreement> calc_agreement(std::span<const Judged> answers) {
  if (answers.size() < 3) return std::nullopt;
  const auto n = static_cast<double>(answers.size());
  double mean_true = 0;
  double mean_difference = 0;
  for (const Judged& each : answers) {
    mean_true += each.true_pd / n;
    mean_difference += (each.said_pd - each.true_pd) / n;
  }
  double spread_true = 0;
  double spread_difference = 0;
  double together = 0;
  for (const Judged& each : answers) {
    const double of_true = each.true_pd - mean_true;
    const double of_difference = each.said_pd - each.true_pd - mean_difference;
    spread_true += of_true * of_true;
    spread_difference += of_difference * of_difference;
    together += of_true * of_difference;
  }
  if (spread_true <= 0) return std::nullopt;
  Agreement found;
  found.count = answers.size();
  found.sd_pd = square_root(spread_difference / (n - 1));
  const double t = student_t_975(answers.size() - 1);
  found.bias = around(mean_difference, t * found.sd_pd / square_root(n));
  // The standard error of a limit is about sqrt(3 s^2 / n): the same paper.
  const double of_limit = t * square_root(3 * found.sd_pd * found.sd_pd / n);
  found.lower_limit = around(mean_difference - kNormal975 * found.sd_pd, of_limit);
  found.upper_limit = around(mean_difference + kNormal975 * found.sd_pd, of_limit);
  found.slope = 1 + together / spread_true;
  found.intercept_pd = mean_difference - (found.slope - 1) * mean_true;
  return found;
}

}  // namespace redress::progress
