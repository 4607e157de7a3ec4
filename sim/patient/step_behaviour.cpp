// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/patient/step_behaviour.hpp"

#include "sim/basics/elementary.hpp"
#include "sim/basics/random.hpp"

namespace redress::patient {

using elementary::clamp;

namespace {

constexpr double kSoonestBlinkMs = 60.0;
constexpr double kLatestBlinkMs = 450.0;
constexpr double kPictureDetail = 0.95;  // what a picture offers; letters offer more, a light less
constexpr std::int32_t kLongestBoredMs = 30000;
constexpr double kResistsOwn = 0.8;
constexpr double kResistsOther = 0.1;
constexpr double kAwayDeg = 15.0;
constexpr std::int32_t kTurnMs = 400;
constexpr std::int32_t kContentMs = 1500;

void step_blink_due(const Parameters& p, const Chance& chance, bool uncovered, State& s) {
  BehaviourState& b = s.behaviour;
  if (uncovered && chance.noise > 0.0 && p.behaviour.blink_on_uncovering > 0.0) {
    const std::uint32_t event = b.uncoverings++;
    if (random_uniform(chance.seed, Stream::behaviour, event, 0) <
        p.behaviour.blink_on_uncovering) {
      const double u = random_uniform(chance.seed, Stream::behaviour, event, 1);
      b.blink_due_ms =
          static_cast<std::int32_t>(kSoonestBlinkMs + (kLatestBlinkMs - kSoonestBlinkMs) * u);
    }
  }
  if (b.blink_due_ms < 0 || --b.blink_due_ms > 0) return;
  b.blink_due_ms = -1;
  InstabilityState& n = s.instability;
  if (n.blink_ms >= 0) return;
  ++n.blinks;
  n.blink_ms = 0;
  n.blink_depth = 1.0;
}

void step_boredom(const Parameters& p, const Retinas& retinas, State& s) {
  BehaviourState& b = s.behaviour;
  InstabilityState& n = s.instability;
  const bool interesting = retinas.detail == kPictureDetail;
  if (interesting || retinas.urged != n.urged || retinas.nearness_d != b.nearness_d) {
    b.bored_ms = 0;
    b.hurry_ms = 0.0;
  }
  b.nearness_d = retinas.nearness_d;
  if (b.bored_ms < kLongestBoredMs) ++b.bored_ms;
  if (n.lapse_ms > 0 || n.lapse_in_ms <= 1) return;
  const double a = p.instability.attention;
  const double halvings = static_cast<double>(b.bored_ms) / (1000.0 * p.behaviour.bored_after_s);
  const double left = a * elementary::exponential(-0.69314718055994531 * halvings);
  // Lapses come more often as attention goes: their rate is in proportion to what is missing.
  b.hurry_ms += (1.0 - left) / (1.0 - a) - 1.0;
  while (b.hurry_ms >= 1.0 && n.lapse_in_ms > 1) {
    b.hurry_ms -= 1.0;
    --n.lapse_in_ms;
  }
}

void start_turn(double to, BehaviourState& b) {
  b.turn_from_deg = b.turn_deg;
  b.turn_to_deg = to;
  b.turning_ms = 0;
}

void step_turn(BehaviourState& b) {
  if (b.turning_ms < 0) return;
  ++b.turning_ms;
  const double u = clamp(static_cast<double>(b.turning_ms) / kTurnMs, 0.0, 1.0);
  const double share = u * u * u * (10.0 - 15.0 * u + 6.0 * u * u);
  b.turn_deg = b.turn_from_deg + (b.turn_to_deg - b.turn_from_deg) * share;
  if (b.turning_ms < kTurnMs) return;
  b.turn_deg = b.turn_to_deg;
  b.turning_ms = -1;
}

void step_resistance(const Parameters& p, const Retinas& retinas, const Chance& chance,
                     BehaviourState& b) {
  for (const Eye eye : kBothEyes) {
    const bool hidden = b.present[eye] && !retinas.image[eye].present;
    if (!hidden || b.away || b.withdraws_in_ms >= 0) continue;
    const std::uint32_t event = b.covers++;
    const double chance_of_it = eye == *p.behaviour.resists ? kResistsOwn : kResistsOther;
    const bool will = chance.noise > 0.0
                          ? random_uniform(chance.seed, Stream::behaviour, event, 2) < chance_of_it
                          : chance_of_it > 0.5;
    if (!will) continue;
    const double u =
        chance.noise > 0.0 ? random_uniform(chance.seed, Stream::behaviour, event, 3) : 0.5;
    b.withdraws_in_ms = 300 + static_cast<std::int32_t>(600.0 * u);
    b.turn_to_deg = -side_of(eye) * kAwayDeg;
  }
  const bool open = retinas.image.right.present && retinas.image.left.present;
  b.content_ms = open ? (b.content_ms < 1000000 ? b.content_ms + 1 : b.content_ms) : 0;
  if (b.withdraws_in_ms >= 0 && --b.withdraws_in_ms < 0) {
    b.away = true;
    start_turn(b.turn_to_deg, b);
  }
  if (b.away && b.turning_ms < 0 && b.content_ms > kContentMs) {
    b.away = false;
    start_turn(0.0, b);
  }
  step_turn(b);
}

}  // namespace

void step_behaviour(const Parameters& p, const Retinas& retinas, const Chance& chance, State& s) {
  BehaviourState& b = s.behaviour;
  bool uncovered = false;
  for (const Eye eye : kBothEyes) {
    uncovered = uncovered || (!b.present[eye] && retinas.image[eye].present);
  }
  step_blink_due(p, chance, uncovered, s);
  if (p.behaviour.bored_after_s > 0.0) step_boredom(p, retinas, s);
  if (p.behaviour.resists) step_resistance(p, retinas, chance, b);
  for (const Eye eye : kBothEyes) b.present[eye] = retinas.image[eye].present;
}

void begin_behaviour(const Parameters& p, State& s) {
  BehaviourState& b = s.behaviour;
  b = {};
  b.in_force = p.behaviour.in_force();
  if (!b.in_force) return;
  b.present = s.fixation.last_present;
  b.nearness_d = s.here.nearness_d;
}

}  // namespace redress::patient
