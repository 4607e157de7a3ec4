// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// What a patient does that is not a movement of the eyes alone: a blink on being uncovered, a child
// that tires of letters, a child that will not have its better eye covered.
//
// Blink: within 0.5 s of an uncovering, in the case's share of them (30 to 40 %: judgement).
// Boredom: a small child's attention to letters or a light halves in 8 s at 4 years, in proportion
//   more slowly with age, below 7 years; pictures hold it; told to look, it is all there again
//   (judgement).
// Resistance: within 1.5 s of the better eye's being covered the head is turned 15 degrees away in
//   80 % of covers (70 % and more: judgement), in 10 % when it is the other eye; the hand with the
//   occluder stays behind. It comes back once that eye has seen again for a while. With the noise
//   off: always, and never.
#pragma once

#include <cstdint>
#include <optional>

#include "sim/basics/eye.hpp"

namespace redress::patient {

struct Behaviour {
  double blink_on_uncovering = 0.0;
  double bored_after_s = 0.0;  ///< attention halves in so long; 0: it does not
  std::optional<Eye> resists;  ///< cover of this eye

  [[nodiscard]] bool in_force() const {
    return blink_on_uncovering > 0.0 || bored_after_s > 0.0 || resists.has_value();
  }
};

struct BehaviourState {
  bool in_force = false;
  PerEye<bool> present{true, true};  ///< images at the last tick
  std::uint32_t uncoverings = 0;
  std::int32_t blink_due_ms = -1;  ///< -1: none
  std::int32_t bored_ms = 0;       ///< since the target was new or the patient was told to look
  double hurry_ms = 0.0;           ///< part of a millisecond by which the next lapse comes sooner
  double nearness_d = 0.0;
  std::uint32_t covers = 0;
  std::int32_t withdraws_in_ms = -1;  ///< until the head turns away; -1: it does not
  std::int32_t content_ms = 0;        ///< nothing has been covered for so long
  bool away = false;
  double turn_from_deg = 0.0;
  double turn_to_deg = 0.0;
  std::int32_t turning_ms = -1;  ///< since it began; -1: it stays
  double turn_deg = 0.0;         ///< of the head, by the patient: + to the right
};

template <class Visitor>
void visit_fields(const BehaviourState& s, Visitor& visit) {
  if (!s.in_force) return;
  visit("behaviour.present", s.present.right);
  visit("behaviour.present", s.present.left);
  visit("behaviour.uncoverings", s.uncoverings);
  visit("behaviour.blink_due_ms", s.blink_due_ms);
  visit("behaviour.bored_ms", s.bored_ms);
  visit("behaviour.hurry_ms", s.hurry_ms);
  visit("behaviour.nearness_d", s.nearness_d);
  visit("behaviour.covers", s.covers);
  visit("behaviour.withdraws_in_ms", s.withdraws_in_ms);
  visit("behaviour.content_ms", s.content_ms);
  visit("behaviour.away", s.away);
  visit("behaviour.turn_from_deg", s.turn_from_deg);
  visit("behaviour.turn_to_deg", s.turn_to_deg);
  visit("behaviour.turning_ms", s.turning_ms);
  visit("behaviour.turn_deg", s.turn_deg);
}

}  // namespace redress::patient
