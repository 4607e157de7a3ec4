// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Numbers in the sentences of marks: with their unit, in the trade's words, never "-0.0".
#pragma once

#include <string>

#include <fmt/format.h>

namespace redress::scoring {

/// To one decimal, without sign.
inline double one_place(double x) {
  return 0.1 * static_cast<double>(static_cast<long long>((x < 0.0 ? -x : x) * 10.0 + 0.5));
}

/// "5.8Δ"
inline std::string in_pd(double size) { return fmt::format("{:.1f}Δ", one_place(size)); }

/// "5.8Δ exo", "2.0Δ eso", "no deviation across": eso +.
inline std::string say_across(double pd) {
  if (one_place(pd) == 0.0) return "nothing across";
  return in_pd(pd) + (pd > 0.0 ? " eso" : " exo");
}

/// "2.0Δ right over left": right eye higher +.
inline std::string say_height(double pd) {
  if (one_place(pd) == 0.0) return "nothing in height";
  return in_pd(pd) + (pd > 0.0 ? " right over left" : " left over right");
}

/// "25° right, 25° down"; the patient's right.
inline std::string say_gaze(double horizontal_deg, double vertical_deg) {
  std::string words;
  const auto add = [&words](double deg, const char* more, const char* less) {
    if (deg > -0.5 && deg < 0.5) return;
    words += fmt::format("{}{:.0f}° {}", words.empty() ? "" : ", ", deg < 0.0 ? -deg : deg,
                         deg > 0.0 ? more : less);
  };
  add(horizontal_deg, "right", "left");
  add(vertical_deg, "up", "down");
  return words.empty() ? "straight ahead" : words;
}

/// "30° to the right shoulder"
inline std::string say_tilt(double roll_deg) {
  return fmt::format("{:.0f}° to the {} shoulder", roll_deg < 0.0 ? -roll_deg : roll_deg,
                     roll_deg < 0.0 ? "left" : "right");
}

}  // namespace redress::scoring
