// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/optics/optotype.hpp"

#include "sim/basics/elementary.hpp"

namespace redress::optics {

Millimetres letter_height(double distance_m, double size_logmar) {
  const double angle_deg = 5.0 / 60.0 * elementary::power(10.0, size_logmar);
  return Millimetres{1000.0 * distance_m *
                     elementary::tangent(angle_deg * elementary::kRadiansPerDegree)};
}

double to_logmar(double test_m, double letter_m) {
  return elementary::logarithm(letter_m / test_m) / elementary::logarithm(10.0);
}

std::string to_snellen(double logmar) {
  const double exact = 6.0 * elementary::power(10.0, logmar);
  const double step = exact < 7.0 ? 0.1 : exact < 10.0 ? 0.5 : 1.0;
  // In tenths, so that the digits are written and not rounded again.
  const long tenths = static_cast<long>(10.0 * step + 0.5) * static_cast<long>(exact / step + 0.5);
  std::string text = "6/" + std::to_string(tenths / 10);
  if (tenths % 10 != 0) text += "." + std::to_string(tenths % 10);
  return text;
}

}  // namespace redress::optics
