// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// How a hand moves an instrument: the minimum-jerk path (Flash & Hogan 1985, J Neurosci 5:1688).
#pragma once

namespace redress::optics {

/// The share of the way that is done after the share `u` of the time (held to 0 ... 1):
/// 10 u^3 - 15 u^4 + 6 u^5.
constexpr double minimum_jerk_fraction(double u) {
  if (!(u > 0.0)) return 0.0;
  if (u >= 1.0) return 1.0;
  return u * u * u * (10.0 + u * (6.0 * u - 15.0));
}

}  // namespace redress::optics
