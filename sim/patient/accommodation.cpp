// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/patient/accommodation.hpp"

#include "sim/basics/elementary.hpp"
#include "sim/basics/random.hpp"
#include "sim/patient/fusion.hpp"

namespace redress::patient {

using elementary::clamp;

namespace {
constexpr double kTickS = 0.001;
constexpr std::size_t kDelayMs = 350;
constexpr double kGreatestSpeed = 10.0;  // D/s
// Relaxing, at most so fast: 1.39 x response + 1.12 (Bharadwaj & Schor).
constexpr double kRelaxingPerD = 1.39;
constexpr double kRelaxingLeast = 1.12;
constexpr double kUnresolvedDetail = 0.3;  // a target too small to make out guides poorly
}  // namespace

double calc_driven_goal(const Accommodation& a, double demand_d, double detail) {
  const double goal = calc_accommodation_goal(a, demand_d, detail);
  return goal < a.spasm_d ? a.spasm_d : goal;
}

double calc_accommodation_response(const Accommodation& a, double blur_driven_d,
                                   double fusional_deg, double detail) {
  // What blur can see it takes back: all of it shows only with nothing to accommodate on.
  const double added = (1.0 - a.slope * detail) * a.convergence_d_per_deg * fusional_deg;
  return clamp(blur_driven_d + added, 0.0, a.amplitude_d);
}

Accommodation calc_accommodation_now(const Accommodation& a, const Chance& chance,
                                     std::int64_t tick) {
  if (a.spasm_d <= 0.0 || chance.noise <= 0.0) return a;
  constexpr std::int64_t kSpellMs = 12000;  // from one strength to the next: judgement
  constexpr std::uint32_t kSpasmPart = 5;   // beside those of sim/patient/step_behaviour.cpp
  const auto strength = [&](std::int64_t spell) {
    if (spell == 0) return 1.0;
    const auto event = static_cast<std::uint64_t>(spell);
    return random_uniform(chance.seed, Stream::behaviour, event, kSpasmPart);
  };
  const std::int64_t spell = tick / kSpellMs;
  const double u = static_cast<double>(tick % kSpellMs) / static_cast<double>(kSpellMs);
  const double from = strength(spell);
  const double share = from + (strength(spell + 1) - from) * (u * u * (3.0 - 2.0 * u));
  Accommodation now = a;
  now.spasm_d *= 1.0 - clamp(chance.noise, 0.0, 1.0) * (1.0 - share);
  return now;
}

void step_accommodation(const Accommodation& now, const Retinas& retinas, const Sight& sight,
                        State& s) {
  AccommodationState& a = s.accommodation;
  if (sight.none_seen) {
    a.goal.push(a.goal.back(0));
  } else {
    const Eye leading = sight.seen[s.fixation.eye] ? s.fixation.eye : fellow(s.fixation.eye);
    const double detail =
        sight.resolved[leading]
            ? retinas.detail
            : (retinas.detail < kUnresolvedDetail ? retinas.detail : kUnresolvedDetail);
    a.goal.push(calc_driven_goal(now, retinas.image[leading].demand_d, detail));
  }
  const double goal = a.goal.back(kDelayMs);
  const double tau = goal > a.blur_driven_d ? now.rise_s : now.fall_s;
  const double relaxing = kRelaxingPerD * a.blur_driven_d + kRelaxingLeast;
  const double speed = clamp((goal - a.blur_driven_d) / tau, -relaxing, kGreatestSpeed);
  a.blur_driven_d += speed * kTickS;
  if (elementary::magnitude(goal - a.blur_driven_d) < 1e-9) a.blur_driven_d = goal;
  a.response_d =
      calc_accommodation_response(now, a.blur_driven_d, s.fusion.fast_deg, retinas.detail);
}

}  // namespace redress::patient
