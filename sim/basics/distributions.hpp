// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Quantiles that intervals need. Abramowitz & Stegun 1964, 26.5 (incomplete beta, from memory);
// tests compare with Boost.Math.
#pragma once

namespace redress {

/// P(T <= t) of Student's t with `degrees` > 0.
double calc_t_probability(double t, double degrees);
/// The t with P(T <= t) = p, 0 < p < 1.
double calc_t_quantile(double p, double degrees);
/// Standard normal, two-sided 95 %.
inline constexpr double kNormal95 = 1.959963984540054;

}  // namespace redress
