// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// How well fusion is kept over minutes, and how the deviation differs from session to session.
// Degrees.
//
// Fatigue: each time the cover crosses from one eye to the other fusion tires, T += 0.1 f (1 - T)
//   with f the case's fatigue: two thirds after ten times. Tired fusion waits before it sets in
//   again, 6 s at T = 1, so that control is worse by a grade of the office control score after ten
//   alternations (judgement); told to look, it does not wait. Rest with single vision undoes it
//   with a time constant of 5 min (control is scored 10 min after dissociation: common practice).
// Tenacious fusion: a share of the patient's usual fusional effort is a tonus that only prolonged
//   cover lets go (half of some exodeviations appears after 10 to 30 min: judgement; 44 % of
//   patients increased by 5 and more after 30 min: from an abstract). tau 15 min off, 1 min on.
// Session: one normal draw for the whole examination (SD 0.33 degrees: Paulus, Straube & Eggert
//   2019), scaled with the noise.
#pragma once

#include <cstdint>

#include "sim/basics/eye.hpp"

namespace redress::patient {

struct Control {
  double fatigue = 0.0;
  double tenacious = 0.0;
  double session_sd_deg = 0.0;

  [[nodiscard]] bool in_force() const {
    return fatigue > 0.0 || tenacious > 0.0 || session_sd_deg > 0.0;
  }
};

struct ControlState {
  bool in_force = false;
  double tired = 0.0;          ///< T: 0 ... 1
  std::int32_t last_only = 0;  ///< the eye that last saw alone: +1 right, -1 left, 0 neither yet
  std::int32_t waited_ms = 0;  ///< both images there, and fusion has not set in
  double tenacious_deg = 0.0;  ///< part of the vergence
  double session_deg = 0.0;    ///< part of the resting vergence
};

template <class Visitor>
void visit_fields(const ControlState& s, Visitor& visit) {
  if (!s.in_force) return;
  visit("control.tired", s.tired);
  visit("control.last_only", s.last_only);
  visit("control.waited_ms", s.waited_ms);
  visit("control.tenacious_deg", s.tenacious_deg);
  visit("control.session_deg", s.session_deg);
}

/// Whether tired fusion has waited long enough to set in again.
inline bool has_waited(const ControlState& s) {
  constexpr double kLongestMs = 6000.0;
  return static_cast<double>(s.waited_ms) >= kLongestMs * s.tired;
}

}  // namespace redress::patient
