// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The line of letters, as long as it is drawn: what the patient's eyes cross from end to end, and
// by which a practitioner calibrates the own eye (12 cm at 6 m, or 8 mm at 40 cm, is a movement of
// 2Δ).
#pragma once

#include "sim/optics/optotype.hpp"
#include "sim/room/room.hpp"

namespace redress {

/// Letters as wide as they are high, as far apart as they are wide.
inline constexpr int kLettersInLine = 5;

/// From end to end, mm.
inline double calc_line_mm(const TargetState& target) {
  if (target.width_mm > 0.0) return target.width_mm;
  const double height = optics::letter_height(target.place.distance_m, target.size_logmar).value;
  return (2.0 * kLettersInLine - 1.0) * height;
}

/// The movement from end to end, prism dioptres: 100 x length / distance.
inline double calc_line_pd(const TargetState& target) {
  return 0.1 * calc_line_mm(target) / target.place.distance_m;
}

}  // namespace redress
