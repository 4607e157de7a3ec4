// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/patient/fixation.hpp"

#include "sim/basics/elementary.hpp"
#include "sim/basics/random.hpp"
#include "sim/patient/microsaccade.hpp"

namespace redress::patient {

using elementary::clamp;
using elementary::magnitude;

namespace {

constexpr double kTickS = 0.001;
constexpr double kSuppressionS = 0.08;
constexpr double kAttentionS = 0.3;
constexpr double kJumpDeg = 0.3;        // an image that moves so far within a tick has jumped
constexpr double kAppearing = 0.4;      // draw of an image that comes back, against one that jumps
constexpr double kAttentionGain = 6.0;  // how much an image that jumps outweighs the other
constexpr double kSwitchMs = 150.0;     // judgement: a squint reverts 0.2 to 0.5 s after uncovering
constexpr double kSwitchSdMs = 50.0;

// How fully a jump is noticed. In normals the answers to a prism of 4 are often atypical, and
// differ between persons and between repetitions (Frantz, Cotter & Wick 1992; no rate is
// published): a share of the person's and a share of the occasion's.
double calc_capture(const Chance& chance, std::uint32_t jump) {
  if (chance.noise <= 0.0) return 1.0;
  const double person = random_normal(chance.seed, Stream::person, 1);
  const double occasion = random_normal(chance.seed, Stream::image_jump, jump);
  return clamp(1.0 - chance.noise * (0.20 * magnitude(person) + 0.25 * magnitude(occasion)), 0.0,
               1.0);
}

void notice_images(const Retinas& retinas, const Chance& chance, State& s) {
  FixationState& x = s.fixation;
  bool jumped = false;
  bool changed = false;
  PerEye<bool> moved{};
  for (const Eye eye : kBothEyes) {
    const RetinalImage& image = retinas.image[eye];
    x.attention[eye] -= x.attention[eye] * (kTickS / kAttentionS);
    if (x.attention[eye] < 1e-9) x.attention[eye] = 0.0;
    if (image.present && x.last_present[eye]) {
      const double far = elementary::hypotenuse(image.horizontal_deg - x.last_horizontal[eye],
                                                image.vertical_deg - x.last_vertical[eye]);
      moved[eye] = far > kJumpDeg;
      jumped = jumped || moved[eye];
    } else if (image.present && x.attention[eye] < kAppearing) {
      x.attention[eye] = kAppearing;
    }
    changed = changed || image.present != x.last_present[eye];
    x.last_horizontal[eye] = image.horizontal_deg;
    x.last_vertical[eye] = image.vertical_deg;
    x.last_present[eye] = image.present;
  }
  if (x.since_jump_ms < 1000000) ++x.since_jump_ms;
  if (changed || jumped) hold_microsaccades(s.instability);
  if (!jumped) return;
  x.since_jump_ms = 0;
  const double capture = calc_capture(chance, x.jumps);
  ++x.jumps;
  for (const Eye eye : kBothEyes) {
    if (moved[eye]) x.attention[eye] = capture;
  }
}

// Drawn once for each spell in which both eyes see and do not fuse. The eye that fixes goes on,
// unless the other is preferred: that takes over as often as the preference says. With none (0.5)
// whichever eye has fixation holds it, as alternators do.
void draw_choice(const Parameters& p, const Sight& sight, const Chance& chance, FixationState& x) {
  x.drawn = true;
  const std::uint32_t event = x.choices;
  ++x.choices;
  const Eye other = fellow(x.eye);
  bool takes_over = false;
  if (x.eye != p.sensory.preferred) {
    const double preference = p.sensory.preference;
    takes_over = preference > 0.5 &&
                 (chance.noise <= 0.0 ||
                  random_uniform(chance.seed, Stream::fixation_choice, event) < preference);
  }
  // The eye used is the one that sees this target (Horton et al. 2020).
  if (sight.resolved[x.eye] && !sight.resolved[other]) takes_over = false;
  if (!sight.resolved[x.eye] && sight.resolved[other]) takes_over = true;
  if (!takes_over) return;
  const double delay = kSwitchMs + chance.noise * kSwitchSdMs *
                                       random_normal(chance.seed, Stream::fixation_delay, event);
  x.switch_in_ms = static_cast<std::int32_t>(delay > 50.0 ? delay : 50.0);
}

void choose_eye(const Parameters& p, const Retinas& retinas, const Sight& sight,
                const Chance& chance, State& s) {
  FixationState& x = s.fixation;
  const bool right = retinas.image.right.present;
  const bool left = retinas.image.left.present;
  if (right != left) {
    x.eye = right ? Eye::right : Eye::left;
    x.switch_in_ms = -1;
    x.drawn = false;
    return;
  }
  if (!sight.both_seen) return;  // a blink, or both covered: nothing changes
  if (s.fusion.locked) {
    x.switch_in_ms = -1;
    x.drawn = false;
    // Held at an angle, only one eye can be on the target: the preferred one, if it sees it.
    const Eye preferred = p.sensory.preferred;
    if (p.fusion.anomaly_deg != 0.0 && sight.resolved[preferred]) x.eye = preferred;
    return;
  }
  if (!x.drawn) draw_choice(p, sight, chance, x);
  // An eye whose muscles do not get it to the target leaves it to its fellow.
  if (s.muscles.gave_up && x.switch_in_ms < 0 && sight.resolved[fellow(x.eye)]) {
    x.switch_in_ms = static_cast<std::int32_t>(kSwitchMs);
  }
  if (x.switch_in_ms > 0) --x.switch_in_ms;
  if (x.switch_in_ms == 0) {
    x.eye = fellow(x.eye);
    x.switch_in_ms = -1;
  }
}

void step_suppression(const Parameters& p, const Sight& sight, State& s) {
  FixationState& x = s.fixation;
  for (const Eye eye : kBothEyes) {
    const bool other = eye != x.eye;
    const Angles e = sight.error[eye];
    const double from_fovea = elementary::hypotenuse(e.horizontal, e.vertical);
    const bool hidden = from_fovea < p.sensory.scotoma_reach_deg[eye];
    const bool apart = !s.fusion.locked && p.sensory.suppresses[eye] &&
                       from_fovea < p.sensory.suppression_reach_deg;
    const bool ignored = other && sight.both_seen && (apart || hidden);
    const double goal = ignored ? 1.0 : 0.0;
    x.suppression[eye] += (goal - x.suppression[eye]) * (kTickS / kSuppressionS);
    if (x.suppression[eye] < 1e-9) x.suppression[eye] = 0.0;
  }
}

}  // namespace

void step_fixation(const Parameters& p, const Retinas& retinas, const Sight& sight,
                   const Chance& chance, State& s) {
  notice_images(retinas, chance, s);
  choose_eye(p, retinas, sight, chance, s);
  step_suppression(p, sight, s);
}

Angles calc_version_error(const Parameters& p, const Sight& sight, const State& s) {
  const FixationState& x = s.fixation;
  Angles e{};
  if (sight.both_seen && s.fusion.locked && p.fusion.anomaly_deg == 0.0) {
    const double preferred_share = 0.5 + 0.3 * (p.sensory.preference - 0.5);
    PerEye<double> weight{};
    for (const Eye eye : kBothEyes) {
      const double share = eye == p.sensory.preferred ? preferred_share : 1.0 - preferred_share;
      weight[eye] = sight.resolved[eye] ? share * (1.0 - x.suppression[eye]) *
                                              (1.0 + kAttentionGain * x.attention[eye])
                                        : 0.0;
    }
    const double sum = weight.right + weight.left;
    if (sum > 1e-9) {
      e.horizontal = (weight.right * sight.error.right.horizontal +
                      weight.left * sight.error.left.horizontal) /
                     sum;
      e.vertical =
          (weight.right * sight.error.right.vertical + weight.left * sight.error.left.vertical) /
          sum;
    }
  } else if (sight.resolved[x.eye]) {
    e = sight.error[x.eye];
    e.horizontal += p.sensory.eccentric_turn_deg[x.eye];
  }
  if (s.instability.lapse_ms > 0) {
    e.horizontal += s.instability.glance.horizontal;
    e.vertical += s.instability.glance.vertical;
  }
  return e;
}

bool is_fused(const State& s, const Retinas& retinas, const Sight& sight) {
  const double demand = s.fusion.fast_deg + s.fusion.slow_deg + s.control.tenacious_deg;
  const double tolerance = 0.6 + 0.05 * magnitude(demand);
  // An eye that has risen is not yet where its fellow is.
  const PerEye<double>& risen = s.unsteady.risen_deg;
  if (magnitude(risen.right - risen.left) > 0.6) return false;
  return s.fusion.locked && retinas.image.right.present && retinas.image.left.present &&
         magnitude(sight.disparity_deg) < tolerance &&
         magnitude(sight.vertical_disparity_deg) < 0.6;
}

}  // namespace redress::patient
