// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Numbers as reports write them: a true minus, a dash for what is not there.
#pragma once

#include <optional>
#include <string>

#include <fmt/format.h>

namespace redress::assessment {

inline std::string to_fixed(double x, int decimals) {
  std::string text = fmt::format("{:.{}f}", x, decimals);
  if (text.find_first_not_of("-0.") == std::string::npos && text.starts_with("-")) text.erase(0, 1);
  if (text.starts_with("-")) text.replace(0, 1, "\u2212");
  return text;
}
inline std::string to_fixed(const std::optional<double>& x, int decimals) {
  return x ? to_fixed(*x, decimals) : "\u2013";
}
inline std::string to_signed(double x, int decimals) {
  return (x > 0.0 ? "+" : "") + to_fixed(x, decimals);
}
inline std::string to_percent(double share) { return fmt::format("{:.0f} %", 100.0 * share); }

}  // namespace redress::assessment
