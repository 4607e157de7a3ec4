// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/patient/sight.hpp"

#include "sim/basics/elementary.hpp"
#include "sim/patient/muscles.hpp"

namespace redress::patient {

using elementary::clamp;

namespace {
// Closing 90 ms, shut 30 ms, opening 180 ms (100 to 400 ms in all; Evinger 1991).
constexpr std::int32_t kClosingMs = 90;
constexpr std::int32_t kShutMs = 30;
constexpr std::int32_t kOpeningMs = 180;
constexpr double kDipDownDeg = 1.5;
constexpr double kDipNasalDeg = 0.5;
// The lids hide the pupil when they are more than two thirds down.
constexpr double kPupilHiddenBelow = 0.35;
}  // namespace

double calc_blink_closure(const InstabilityState& state) {
  const std::int32_t t = state.blink_ms;
  if (t < 0) return 0.0;
  double u = 1.0;
  if (t < kClosingMs) {
    u = static_cast<double>(t) / kClosingMs;
  } else if (t >= kClosingMs + kShutMs) {
    u = 1.0 - static_cast<double>(t - kClosingMs - kShutMs) / kOpeningMs;
  }
  u = clamp(u, 0.0, 1.0);
  return state.blink_depth * (u * u * (3.0 - 2.0 * u));
}

Angles calc_blink_dip(const InstabilityState& state, Eye eye) {
  const double closure = calc_blink_closure(state);
  return {-side_of(eye) * (kDipNasalDeg * closure), -kDipDownDeg * closure};
}

double calc_blur_loss(const Accommodation& accommodation, const RetinalImage& image,
                      double leading_demand_d) {
  const double wanted = clamp(leading_demand_d, 0.0, accommodation.amplitude_d);
  const double focused_at = wanted < accommodation.spasm_d ? accommodation.spasm_d : wanted;
  double beyond = elementary::magnitude(image.demand_d - focused_at);
  if (image.astigmatism_d != 0.0) beyond = elementary::hypotenuse(beyond, image.astigmatism_d);
  return beyond > 0.5 ? 0.4 * (beyond - 0.5) : 0.0;
}

Sight calc_sight(const Parameters& p, const Retinas& retinas, const State& s) {
  Sight sight;
  const Eye fixing = s.fixation.eye;
  const Eye leading = retinas.image[fixing].present ? fixing : fellow(fixing);
  const double leading_demand_d = retinas.image[leading].demand_d;
  for (const Eye eye : kBothEyes) {
    double open = s.lids.in_force ? s.lids.open_fraction[eye] : s.lid_open_fraction;
    if (s.muscles.in_force) open *= calc_lid_share(s, eye);
    const bool lids_open = open > kPupilHiddenBelow;
    const RetinalImage& image = retinas.image[eye];
    sight.seen[eye] = image.present && lids_open;
    const double limit =
        p.sensory.acuity_logmar[eye] + calc_blur_loss(p.accommodation, image, leading_demand_d);
    sight.resolved[eye] = sight.seen[eye] && retinas.size_logmar + 1e-9 >= limit;
    const Angles dip = calc_blink_dip(s.instability, eye);
    sight.error[eye] = {image.horizontal_deg - (s.gaze[eye].horizontal - dip.horizontal),
                        image.vertical_deg - (s.gaze[eye].vertical - dip.vertical)};
  }
  if (s.unsteady.in_force) {
    for (const Eye eye : kBothEyes) {
      if (p.unsteadiness.blind[eye]) sight.resolved[eye] = false;
      sight.error[eye].horizontal += s.unsteady.turn[eye].horizontal;
      sight.error[eye].vertical += s.unsteady.turn[eye].vertical;
    }
  }
  sight.both_seen = sight.seen.right && sight.seen.left;
  sight.none_seen = !sight.seen.right && !sight.seen.left;
  sight.disparity_deg =
      (sight.error.left.horizontal - sight.error.right.horizontal) + p.fusion.anomaly_deg;
  sight.vertical_disparity_deg = sight.error.right.vertical - sight.error.left.vertical;
  return sight;
}

}  // namespace redress::patient
