// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/patient/pursuit.hpp"

#include "sim/basics/elementary.hpp"

namespace redress::patient {

using elementary::clamp;
using elementary::magnitude;

namespace {

constexpr double kTickS = 0.001;
constexpr std::size_t kDelayMs = 100;
constexpr double kRiseS = 0.07;
constexpr double kGain = 0.95;
constexpr double kLimit = 40.0;     // deg/s at 23 years and younger
constexpr double kOldLimit = 20.0;  // at 80 (judgement: pursuit weakens with age)
constexpr double kJump = 0.15;      // degrees within a tick: 150 deg/s is no smooth motion

Angles find_speed(const Retinas& retinas, const FixationState& before, Eye eye) {
  const RetinalImage& image = retinas.image[eye];
  if (!image.present || !before.last_present[eye]) return {};
  const double h = image.horizontal_deg - before.last_horizontal[eye];
  const double v = image.vertical_deg - before.last_vertical[eye];
  if (magnitude(h) > kJump || magnitude(v) > kJump) return {};
  return {h / kTickS, v / kTickS};
}

Angles find_target_speed(const Retinas& retinas, const Sight& sight, const State& s) {
  if (sight.none_seen) return {};
  if (!(sight.both_seen && s.fusion.locked)) {
    return find_speed(retinas, s.fixation, s.fixation.eye);
  }
  const Angles r = find_speed(retinas, s.fixation, Eye::right);
  const Angles l = find_speed(retinas, s.fixation, Eye::left);
  return {0.5 * (r.horizontal + l.horizontal), 0.5 * (r.vertical + l.vertical)};
}

// Neither the target nor the head has moved since the last tick: nearly always.
bool nothing_moves(const Retinas& retinas, const FixationState& before) {
  const RetinalImage& r = retinas.image.right;
  const RetinalImage& l = retinas.image.left;
  return r.horizontal_deg == before.last_horizontal.right &&
         l.horizontal_deg == before.last_horizontal.left &&
         r.vertical_deg == before.last_vertical.right &&
         l.vertical_deg == before.last_vertical.left &&
         retinas.head_speed_deg_s.horizontal == 0.0 && retinas.head_speed_deg_s.vertical == 0.0;
}

bool is_still(Angles a) { return a.horizontal == 0.0 && a.vertical == 0.0; }

double calc_limit(double age_years) {
  const double share = clamp((age_years - 23.0) / (80.0 - 23.0), 0.0, 1.0);
  return kLimit + share * (kOldLimit - kLimit);
}

double approach(double speed, double seen, double limit) {
  const double goal = clamp(kGain * seen, -limit, limit);
  const double next = speed + (goal - speed) * (kTickS / kRiseS);
  return magnitude(next) < 1e-6 && goal == 0.0 ? 0.0 : next;
}

}  // namespace

void step_pursuit(const Parameters& p, const Retinas& retinas, const Sight& sight, State& s) {
  if (!s.pursuit.active && nothing_moves(retinas, s.fixation)) return;
  s.version.horizontal -= retinas.head_speed_deg_s.horizontal * kTickS;
  s.version.vertical -= retinas.head_speed_deg_s.vertical * kTickS;

  PursuitState& u = s.pursuit;
  Angles w = find_target_speed(retinas, sight, s);
  if (!is_still(w)) {
    w.horizontal += retinas.head_speed_deg_s.horizontal;
    w.vertical += retinas.head_speed_deg_s.vertical;
  }
  if (is_still(w) && !u.active) return;
  u.active = true;
  u.still_ms = is_still(w) ? u.still_ms + 1 : 0;
  u.seen_horizontal.push(w.horizontal);
  u.seen_vertical.push(w.vertical);
  const double limit = calc_limit(p.age_years);
  u.speed.horizontal = approach(u.speed.horizontal, u.seen_horizontal.back(kDelayMs), limit);
  u.speed.vertical = approach(u.speed.vertical, u.seen_vertical.back(kDelayMs), limit);
  s.version.horizontal += u.speed.horizontal * kTickS;
  s.version.vertical += u.speed.vertical * kTickS;
  if (u.still_ms > static_cast<std::int32_t>(kDelayMs) && is_still(u.speed)) u = {};
}

}  // namespace redress::patient
