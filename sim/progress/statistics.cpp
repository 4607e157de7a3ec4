// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/progress/statistics.hpp"

#include <vector>

#include "sim/basics/distributions.hpp"
#include "sim/basics/statistics.hpp"

namespace redress::progress {

namespace {

Interval around(double value, const redress::Interval& of) { return {value, of.low, of.high}; }

}  // namespace

Interval calc_wilson(std::size_t taken, std::size_t chances) {
  if (chances == 0) return {0, 0, 1};
  const redress::Interval share = calc_share_interval(taken, chances);
  return {static_cast<double>(taken) / static_cast<double>(chances), taken == 0 ? 0.0 : share.low,
          taken == chances ? 1.0 : share.high};
}

double student_t_975(std::size_t degrees) {
  return calc_t_quantile(0.975, static_cast<double>(degrees < 1 ? 1 : degrees));
}

std::optional<Agreement> calc_agreement(std::span<const Judged> answers) {
  if (answers.size() < 3) return std::nullopt;
  std::vector<double> said;
  std::vector<double> there;
  for (const Judged& each : answers) {
    said.push_back(each.said_pd);
    there.push_back(each.true_pd);
  }
  const auto line = calc_line(there, said);
  const auto differences = calc_bland_altman(said, there);
  if (!line || !differences) return std::nullopt;
  Agreement found;
  found.count = answers.size();
  found.sd_pd = differences->deviation;
  found.bias = around(differences->bias, differences->bias_interval);
  found.lower_limit = around(differences->limits.low, differences->lower_limit_interval);
  found.upper_limit = around(differences->limits.high, differences->upper_limit_interval);
  found.slope = line->slope;
  found.intercept_pd = line->intercept;
  return found;
}

}  // namespace redress::progress
