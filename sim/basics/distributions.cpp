// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/basics/distributions.hpp"

#include <initializer_list>

#include "sim/basics/elementary.hpp"

namespace redress {

namespace {

using elementary::exponential;
using elementary::logarithm;
using elementary::magnitude;

// Lanczos 1964 with g = 7 and nine terms; x > 0.
double log_gamma(double x) {
  constexpr double kTerms[] = {0.99999999999980993,  676.5203681218851,     -1259.1392167224028,
                               771.32342877765313,   -176.61502916214059,   12.507343278686905,
                               -0.13857109526572012, 9.9843695780195716e-6, 1.5056327351493116e-7};
  constexpr double kHalfLogTwoPi = 0.91893853320467274;
  double sum = kTerms[0];
  for (int i = 1; i < 9; ++i) sum += kTerms[i] / (x - 1.0 + i);
  const double t = x + 6.5;
  return kHalfLogTwoPi + (x - 0.5) * logarithm(t) - t + logarithm(sum);
}

// Continued fraction of the incomplete beta function, by Lentz' method.
double beta_fraction(double a, double b, double x) {
  constexpr double kTiny = 1e-300;
  constexpr double kEnough = 1e-15;
  constexpr int kMostTerms = 10'000;
  double c = 1.0;
  double d = 1.0 - (a + b) * x / (a + 1.0);
  d = 1.0 / (magnitude(d) < kTiny ? kTiny : d);
  double value = d;
  for (int m = 1; m < kMostTerms; ++m) {
    const double n = m;
    const double even = n * (b - n) * x / ((a + 2.0 * n - 1.0) * (a + 2.0 * n));
    const double odd = -(a + n) * (a + b + n) * x / ((a + 2.0 * n) * (a + 2.0 * n + 1.0));
    for (const double term : {even, odd}) {
      d = 1.0 + term * d;
      c = 1.0 + term / c;
      if (magnitude(d) < kTiny) d = kTiny;
      if (magnitude(c) < kTiny) c = kTiny;
      d = 1.0 / d;
      value *= c * d;
    }
    if (magnitude(c * d - 1.0) < kEnough) break;
  }
  return value;
}

double incomplete_beta(double a, double b, double x) {
  if (x <= 0.0) return 0.0;
  if (x >= 1.0) return 1.0;
  const double front = exponential(log_gamma(a + b) - log_gamma(a) - log_gamma(b) +
                                   a * logarithm(x) + b * logarithm(1.0 - x));
  if (x < (a + 1.0) / (a + b + 2.0)) return front * beta_fraction(a, b, x) / a;
  return 1.0 - front * beta_fraction(b, a, 1.0 - x) / b;
}

}  // namespace

double calc_t_probability(double t, double degrees) {
  const double tail = 0.5 * incomplete_beta(0.5 * degrees, 0.5, degrees / (degrees + t * t));
  return t > 0.0 ? 1.0 - tail : tail;
}

double calc_t_quantile(double p, double degrees) {
  // By halving: it is asked for a few times in a report, and cannot go astray.
  if (p == 0.5) return 0.0;
  if (p < 0.5) return -calc_t_quantile(1.0 - p, degrees);
  double low = 0.0;
  double high = 1.0;
  while (calc_t_probability(high, degrees) < p && high < 1e12) high *= 2.0;
  for (int i = 0; i < 200 && high - low > 1e-14 * high; ++i) {
    const double middle = 0.5 * (low + high);
    (calc_t_probability(middle, degrees) < p ? low : high) = middle;
  }
  return 0.5 * (low + high);
}

}  // namespace redress
