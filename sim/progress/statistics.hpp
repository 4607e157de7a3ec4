// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// What can be said of somebody's skill from a few chances: shares with their intervals, and how
// what was said agrees with what was true. All intervals are of 95 %.
#pragma once

#include <cstddef>
#include <optional>
#include <span>

namespace redress::progress {

struct Interval {
  double value = 0;
  double low = 0;
  double high = 0;
};

/// Share of `taken` among `chances`, 0 ... 1 (Wilson 1927, JASA 22, 209-212). No chances: 0 to 1.
Interval calc_wilson(std::size_t taken, std::size_t chances);

/// 97.5 % point of Student's t (sim/basics/distributions.hpp).
double student_t_975(std::size_t degrees);

struct Judged {
  double true_pd = 0;
  double said_pd = 0;
};

/// Bland & Altman 1986, Lancet 327, 307-310: mean difference said - true, and the limits between
/// which 95 % of the differences lie, each with its interval.
struct Agreement {
  std::size_t count = 0;
  double sd_pd = 0;
  Interval bias;
  Interval lower_limit;
  Interval upper_limit;
  // Least squares of said on true: said = intercept + slope true.
  double slope = 1;
  double intercept_pd = 0;

  /// Said less true, at this size.
  [[nodiscard]] double calc_excess(double true_pd) const {
    return intercept_pd + (slope - 1) * true_pd;
  }
};
/// None below three answers, or where all were of one size.
std::optional<Agreement> calc_agreement(std::span<const Judged> answers);

}  // namespace redress::progress
