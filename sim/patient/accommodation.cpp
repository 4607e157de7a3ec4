// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/patient/accommodation.hpp"

#include "sim/basics/elementary.hpp"
#include "sim/patient/fusion.hpp"

namespace redress::patient {

using elementary::clamp;

namespace {
constexpr double kTickS = 0.001;
constexpr std::size_t kDelayMs = 350;
constexpr double kGreatestSpeed = 10.0;    // D/s
constexpr double kUnresolvedDetail = 0.3;  // a target too small to make out guides poorly
}  // namespace

double calc_driven_goal(const Accommodation& a, double demand_d, double detail) {
  const double goal = calc_accommodation_goal(a, demand_d, detail);
  return goal < a.spasm_d ? a.spasm_d : goal;
}

double calc_accommodation_response(const Accommodation& a, double blur_driven_d,
                                   double fusional_deg) {
  const double added = (1.0 - a.slope) * a.convergence_d_per_deg * fusional_deg;
  return clamp(blur_driven_d + added, 0.0, a.amplitude_d);
}

void step_accommodation(const Parameters& p, const Retinas& retinas, const Sight& sight, State& s) {
  AccommodationState& a = s.accommodation;
  if (sight.none_seen) {
    a.goal.push(a.goal.back(0));
  } else {
    const Eye leading = sight.seen[s.fixation.eye] ? s.fixation.eye : fellow(s.fixation.eye);
    const double detail =
        sight.resolved[leading]
            ? retinas.detail
            : (retinas.detail < kUnresolvedDetail ? retinas.detail : kUnresolvedDetail);
    a.goal.push(calc_driven_goal(p.accommodation, retinas.image[leading].demand_d, detail));
  }
  const double goal = a.goal.back(kDelayMs);
  const double tau = goal > a.blur_driven_d ? p.accommodation.rise_s : p.accommodation.fall_s;
  const double speed = clamp((goal - a.blur_driven_d) / tau, -kGreatestSpeed, kGreatestSpeed);
  a.blur_driven_d += speed * kTickS;
  if (elementary::magnitude(goal - a.blur_driven_d) < 1e-9) a.blur_driven_d = goal;
  a.response_d = calc_accommodation_response(p.accommodation, a.blur_driven_d, s.fusion.fast_deg);
}

}  // namespace redress::patient
