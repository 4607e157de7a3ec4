// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/drill/threshold.hpp"

#include <array>
#include <limits>

#include "sim/basics/elementary.hpp"

namespace redress::drill {

using elementary::exponential;
using elementary::logarithm;
using elementary::power;

namespace {

constexpr std::size_t kThresholds = 72;  // 7.6 % apart
constexpr std::array<double, 6> kSlopes{1.0, 1.4, 2.0, 2.8, 4.0, 5.6};
constexpr std::size_t kSizes = 30;

double step_of(std::size_t i, std::size_t count, double least, double most) {
  const double share = static_cast<double>(i) / static_cast<double>(count - 1);
  return least * exponential(share * logarithm(most / least));
}

double threshold_of(std::size_t i) {
  return step_of(i, kThresholds, kLeastThresholdPd, kMostThresholdPd);
}

double size_of(std::size_t i) { return step_of(i, kSizes, kLeastSizePd, kMostSizePd); }

/// Chance of the right answer, in the order of the grid.
std::vector<double> calc_chances(double size_pd) {
  std::vector<double> chances;
  chances.reserve(kThresholds * kSlopes.size());
  for (std::size_t t = 0; t < kThresholds; ++t) {
    for (const double slope : kSlopes) {
      chances.push_back(calc_chance(size_pd, threshold_of(t), slope));
    }
  }
  return chances;
}

double calc_entropy_part(double p) { return p > 1e-300 ? -p * logarithm(p) : 0.0; }

}  // namespace

double calc_chance(double size_pd, double threshold_pd, double slope) {
  if (size_pd <= 0.0) return 0.5;
  const double most = 0.5 - kLapse;
  const double k = -logarithm(1.0 - 0.25 / most);
  return 0.5 + most * (1.0 - exponential(-k * power(size_pd / threshold_pd, slope)));
}

ThresholdPosterior::ThresholdPosterior()
    : chances_(kThresholds * kSlopes.size(),
               1.0 / static_cast<double>(kThresholds * kSlopes.size())) {}

void ThresholdPosterior::take(double size_pd, bool right) {
  const std::vector<double> likely = calc_chances(size_pd);
  double sum = 0;
  for (std::size_t i = 0; i < chances_.size(); ++i) {
    chances_[i] *= right ? likely[i] : 1.0 - likely[i];
    sum += chances_[i];
  }
  for (double& each : chances_) each /= sum;
}

double ThresholdPosterior::find_next_size() const {
  double best = kMostSizePd;
  double least = std::numeric_limits<double>::infinity();
  for (std::size_t s = 0; s < kSizes; ++s) {
    const std::vector<double> likely = calc_chances(size_of(s));
    double right = 0;
    for (std::size_t i = 0; i < chances_.size(); ++i) right += chances_[i] * likely[i];
    // Entropy after either answer, weighted by how likely it is.
    double after = 0;
    for (std::size_t i = 0; i < chances_.size(); ++i) {
      after += right * calc_entropy_part(chances_[i] * likely[i] / right);
      after += (1.0 - right) * calc_entropy_part(chances_[i] * (1.0 - likely[i]) / (1.0 - right));
    }
    if (after < least) {
      least = after;
      best = size_of(s);
    }
  }
  return best;
}

ThresholdEstimate ThresholdPosterior::estimate() const {
  ThresholdEstimate found;
  const double step = logarithm(kMostThresholdPd / kLeastThresholdPd) / (kThresholds - 1);
  double mean = 0;
  double below = 0;
  // Each point of the grid stands for the stretch half a step to either side.
  const auto quantile = [&](double wanted, double before, double here, double at) {
    const double share = here > 0 ? (wanted - before) / here : 0.5;
    return exponential(at + (share - 0.5) * step);
  };
  constexpr double kTail = 0.025;
  for (std::size_t t = 0; t < kThresholds; ++t) {
    double here = 0;
    for (std::size_t s = 0; s < kSlopes.size(); ++s) here += chances_[t * kSlopes.size() + s];
    const double at = logarithm(threshold_of(t));
    mean += here * at;
    if (below < kTail && below + here >= kTail) found.low = quantile(kTail, below, here, at);
    if (below < 1 - kTail && below + here >= 1 - kTail) {
      found.high = quantile(1 - kTail, below, here, at);
    }
    below += here;
  }
  found.pd = exponential(mean);
  return found;
}

}  // namespace redress::drill
