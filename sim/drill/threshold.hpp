// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The smallest movement that somebody sees, estimated while it is being tested.
//
// Method: psi (Kontsevich & Tyler 1999, Vision Research 39, 2729-2737). What is known of threshold
// and slope is a distribution over a grid; the next size is the one that is expected to leave the
// least entropy in it, and each answer changes it by Bayes' rule. Chance of naming the right one of
// two covers, as in QUEST (Watson & Pelli 1983, Perception & Psychophysics 33, 113-120):
//   p(x) = 1/2 + (1/2 - lapse) (1 - e^(-k (x/T)^slope)),  k so that p(T) = 3/4 exactly
// The threshold T is then what is seen three times in four. Sizes in prism dioptres.
// Judgement: a slip in two answers of a hundred; before the first answer every threshold and slope
// of the grid is as likely as any other, in logarithms.
#pragma once

#include <cstddef>
#include <vector>

namespace redress::drill {

inline constexpr double kLapse = 0.02;
inline constexpr double kLeastThresholdPd = 0.1;
inline constexpr double kMostThresholdPd = 20.0;
inline constexpr double kLeastSizePd = 0.15;  ///< that is shown
inline constexpr double kMostSizePd = 20.0;

/// Chance of naming the right cover, 0.5 ... 0.98.
double calc_chance(double size_pd, double threshold_pd, double slope);

struct ThresholdEstimate {
  double pd = 0;   ///< mean of the logarithm's distribution
  double low = 0;  ///< 2.5 % of the distribution lie below
  double high = 0;
};

/// What is known so far. A value.
class ThresholdPosterior {
 public:
  ThresholdPosterior();

  /// After the movement was shown and the right cover named, or the other.
  void take(double size_pd, bool right);
  /// The size that is expected to tell most.
  [[nodiscard]] double find_next_size() const;
  [[nodiscard]] ThresholdEstimate estimate() const;

 private:
  std::vector<double> chances_;  ///< of thresholds x slopes, adding up to 1
};

}  // namespace redress::drill
