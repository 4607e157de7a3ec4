// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/patient/step.hpp"

#include "sim/basics/elementary.hpp"
#include "sim/patient/accommodation.hpp"
#include "sim/patient/dvd.hpp"
#include "sim/patient/fixation.hpp"
#include "sim/patient/fusion.hpp"
#include "sim/patient/instability.hpp"
#include "sim/patient/muscles.hpp"
#include "sim/patient/pupil_lids.hpp"
#include "sim/patient/pursuit.hpp"
#include "sim/patient/saccade.hpp"
#include "sim/patient/step_behaviour.hpp"
#include "sim/patient/step_control.hpp"
#include "sim/patient/step_unsteady.hpp"

namespace redress::patient {

using elementary::clamp;
using elementary::magnitude;

namespace {

constexpr double kTickS = 0.001;
// Seen counter-roll 0.12 of the tilt (Simonsz 1985), within 0.3 s; no more than is reached at 42
// degrees (4 to 6 in all: Diamond & Markham 1979; 4.9: Bockisch & Haslwanter 2001).
constexpr double kCounterRollGain = 0.12;
constexpr double kMostRolledDeg = 42.0;
constexpr double kCounterRollS = 0.3;
constexpr double kOutOfReachDeg = 1.0;  // an eye that is left so far off the target cannot fix it

double calc_counter_roll(double head_roll_deg) {
  return -kCounterRollGain * clamp(head_roll_deg, -kMostRolledDeg, kMostRolledDeg);
}

// The eye that alone guides the version keeps its place while vergence changes, so that all of the
// change shows in its fellow (Mueller 1826: accommodative vergence turns the covered eye only; from
// memory). Two eyes that are fused share the change.
void steady_fixing_eye(const Sight& sight, double vergence_before, double vertical_before,
                       State& s) {
  if (sight.none_seen || (sight.both_seen && s.fusion.locked)) return;
  const double side = side_of(s.fixation.eye);
  s.version.horizontal += side * (0.5 * (s.vergence_deg - vergence_before));
  s.version.vertical -= side * (0.5 * (s.vertical_vergence_deg - vertical_before));
}

void set_vergence(const Parameters& p, State& s) {
  s.vergence_deg = (s.here.resting_deg + p.tonus.ac_a_deg_per_d * s.accommodation.blur_driven_d) +
                   (s.fusion.fast_deg + s.fusion.slow_deg) + s.instability.vergence_deg;
  s.vertical_vergence_deg = p.tonus.vertical_deg + s.fusion.vertical_deg;
  if (s.control.in_force) s.vergence_deg += s.control.tenacious_deg + s.control.session_deg;
}

void place_eyes(const Parameters& p, State& s) {
  for (const Eye eye : kBothEyes) {
    const Angles dip = calc_blink_dip(s.instability, eye);
    const double side = side_of(eye);
    s.gaze[eye].horizontal =
        (s.version.horizontal - side * (0.5 * s.vergence_deg)) + dip.horizontal;
    s.gaze[eye].vertical =
        (s.version.vertical + side * (0.5 * s.vertical_vergence_deg)) + dip.vertical;
    s.torsion_deg[eye] = s.counter_roll_deg;
  }
  if (!s.unsteady.in_force) return;
  for (const Eye eye : kBothEyes) {
    s.gaze[eye].horizontal += s.unsteady.turn[eye].horizontal;
    s.gaze[eye].vertical += s.unsteady.turn[eye].vertical;
    // The eye that rises extorts, and its fellow intorts (Guyton et al. 1998; half as much:
    // judgement).
    s.torsion_deg[eye] +=
        side_of(eye) *
        (kExtorsionOfRise * (s.unsteady.risen_deg[eye] - 0.5 * s.unsteady.risen_deg[fellow(eye)]));
    s.torsion_deg[eye] += p.unsteadiness.infantile_torsional_share * s.unsteady.infantile_deg;
  }
}

// Whatever asks for more, no eye is sent beyond the clinical limits of ductions.
void limit_command(State& s) {
  s.version.horizontal = clamp(s.version.horizontal, -kGreatestCommand, kGreatestCommand);
  s.version.vertical = clamp(s.version.vertical, -kGreatestCommand, kGreatestCommand);
}

void find_distance(const Parameters& p, const Retinas& retinas, State& s) {
  if (s.here.nearness_d != retinas.nearness_d) {
    s.here = calc_at_distance(p, retinas.nearness_d);
  }
}

// Puts the fixing eye (or, fused, the weighted middle) on the target.
void aim(const Parameters& p, const Retinas& retinas, State& s) {
  set_vergence(p, s);
  // A healthy eye goes where it is told. A weak one takes more telling, as far as commands go.
  const int rounds = s.muscles.in_force ? 200 : 4;
  for (int i = 0; i < rounds; ++i) {
    place_eyes(p, s);
    settle_muscles(p, s);
    s.lid_open_fraction = calc_lid_opening(s);
    if (s.lids.in_force) place_lids(p.lids, s);
    const Sight sight = calc_sight(p, retinas, s);
    // An eye that cannot make the target out is taken to look about where it is.
    const Angles e = sight.resolved[s.fixation.eye] ? calc_version_error(p, sight, s)
                                                    : sight.error[s.fixation.eye];
    s.version.horizontal += e.horizontal;
    s.version.vertical += e.vertical;
    limit_command(s);
  }
  place_eyes(p, s);
  settle_muscles(p, s);
}

}  // namespace

void step(const Parameters& p, const Retinas& retinas, const Chance& chance, State& s) {
  find_distance(p, retinas, s);
  const Sight sight = calc_sight(p, retinas, s);

  if (s.control.in_force) step_control(p, retinas, chance, s);
  step_fusion(p, sight, chance, s);
  if (p.accommodation.spasm_d > 0.0) {
    const Accommodation now = calc_accommodation_now(p.accommodation, chance, s.tick);
    step_accommodation(now, retinas, sight, s);
    step_pupils(p, now, retinas, s);
  } else {
    step_accommodation(p.accommodation, retinas, sight, s);
    step_pupils(p, p.accommodation, retinas, s);
  }
  step_pursuit(p, retinas, sight, s);
  step_fixation(p, retinas, sight, chance, s);

  const Angles error = calc_version_error(p, sight, s);
  if (s.behaviour.in_force) step_behaviour(p, retinas, chance, s);
  step_instability(p, retinas, sight, chance, s);
  if (s.unsteady.in_force) step_unsteady(p, retinas, sight, chance, s);
  step_saccade(p, chance, error, !sight.none_seen, s);

  s.counter_roll_deg +=
      (calc_counter_roll(retinas.head_roll_deg) - s.counter_roll_deg) * (kTickS / kCounterRollS);
  if (magnitude(s.counter_roll_deg) < 1e-9) s.counter_roll_deg = 0.0;
  const double vergence_before = s.vergence_deg;
  const double vertical_before = s.vertical_vergence_deg;
  set_vergence(p, s);
  steady_fixing_eye(sight, vergence_before, vertical_before, s);
  limit_command(s);
  place_eyes(p, s);
  step_muscles(p, s);
  s.lid_open_fraction = calc_lid_opening(s);
  if (s.lids.in_force) place_lids(p.lids, s);
  ++s.tick;
}

State opening_state(const Parameters& p, const Retinas& retinas) {
  State s;
  find_distance(p, retinas, s);
  const bool right = retinas.image.right.present;
  const bool left = retinas.image.left.present;
  s.muscles.in_force = p.muscles.in_force();
  s.fixation.eye = right == left ? p.sensory.preferred : (right ? Eye::right : Eye::left);
  s.fixation.last_present = {right, left};
  for (const Eye eye : kBothEyes) {
    s.fixation.last_horizontal[eye] = retinas.image[eye].horizontal_deg;
    s.fixation.last_vertical[eye] = retinas.image[eye].vertical_deg;
  }
  s.counter_roll_deg = calc_counter_roll(retinas.head_roll_deg);
  s.instability.urged = retinas.urged;

  const double goal =
      calc_driven_goal(p.accommodation, retinas.image[s.fixation.eye].demand_d, retinas.detail);
  s.accommodation.blur_driven_d = goal;
  s.accommodation.response_d = goal;
  s.accommodation.goal.fill(goal);

  const RetinalImage& r = retinas.image.right;
  const RetinalImage& l = retinas.image.left;
  const double resting = s.here.resting_deg + p.tonus.ac_a_deg_per_d * goal;
  double demand = (l.horizontal_deg - r.horizontal_deg) + p.fusion.anomaly_deg - resting;
  double vertical_demand = (r.vertical_deg - l.vertical_deg) - p.tonus.vertical_deg;
  if (s.muscles.in_force) {
    // What the muscles ask of fusion shows when one eye is on the target.
    s.fusion.locked = false;
    aim(p, retinas, s);
    Sight sight = calc_sight(p, retinas, s);
    const Angles left_over = sight.error[s.fixation.eye];
    if (sight.both_seen &&
        elementary::hypotenuse(left_over.horizontal, left_over.vertical) > kOutOfReachDeg) {
      s.fixation.eye = fellow(s.fixation.eye);
      aim(p, retinas, s);
      sight = calc_sight(p, retinas, s);
    }
    demand = sight.disparity_deg;
    vertical_demand = sight.vertical_disparity_deg;
  }
  FusionState& f = s.fusion;
  f.locked = p.fusion.present && right && left && within_break(s.here, demand, vertical_demand);
  f.settled = f.locked;
  f.invalid_ms = f.locked ? 0 : 100000;
  if (f.locked) {
    f.demand_deg = f.fast_deg = kFusionGain * demand;
    f.vertical_demand_deg = f.vertical_deg = kFusionGain * vertical_demand;
  }
  f.disparity.fill(demand - f.fast_deg);
  f.total.fill(f.fast_deg);
  f.vertical_disparity.fill(vertical_demand - f.vertical_deg);
  f.vertical_total.fill(f.vertical_deg);
  f.seen.fill(f.locked ? 1.0 : 0.0);
  f.seen_ms = f.locked ? 100000 : 0;

  const double pupil =
      calc_spasm_pupil(p.accommodation, calc_pupil_goal(p.age_years, goal, retinas.light));
  s.pupil.diameter_mm = {pupil, pupil};
  if (p.pupils.in_force()) s.pupil.diameter_mm = apply_faults(p.pupils, s.pupil.diameter_mm);
  s.pupil.goal_right.fill(s.pupil.diameter_mm.right);
  s.pupil.goal_left.fill(s.pupil.diameter_mm.left);

  open_unsteady(p, retinas, s);
  s.control.in_force = p.control.in_force();
  s.lids.in_force = p.lids.in_force();

  aim(p, retinas, s);
  return s;
}

void begin(const Parameters& p, const Chance& chance, State& s) {
  s.tick = 0;
  s.saccade.count = 0;
  s.saccade.fruitless = 0;
  s.saccade.since_last_ms = 100000;
  s.fixation.choices = 0;
  s.fixation.jumps = 0;
  s.fixation.since_jump_ms = 100000;
  s.muscles.fatigue = 0.0;
  begin_instability(p, chance, s);
  begin_unsteady(p, chance, s);
  begin_control(p, chance, s);
  begin_behaviour(p, s);
}

Percept calc_percept(const Parameters& p, const Retinas& retinas, const State& s) {
  const Sight sight = calc_sight(p, retinas, s);
  Percept percept;
  const Eye other = fellow(s.fixation.eye);
  const double reach = p.sensory.suppression_reach_deg;
  const Angles e = sight.error[other];
  const bool hidden = p.sensory.suppresses[other] &&
                      e.horizontal * e.horizontal + e.vertical * e.vertical < reach * reach;
  // Where the two retinas agree on the place there is one target, fused or not.
  const double demand = s.fusion.fast_deg + s.fusion.slow_deg + s.control.tenacious_deg;
  // Panum's area at the fovea (Qin, Takamatsu & Nakashima 2006: 32 to 40 minutes wide, 19 to 26
  // high); what fusion leaves of its own demand is no second target.
  constexpr double kPanumHorizontal = 0.30;
  constexpr double kPanumVertical = 0.19;
  constexpr double kOfDemand = 0.05;
  const bool agree =
      magnitude(sight.disparity_deg) < kPanumHorizontal + kOfDemand * magnitude(demand) &&
      magnitude(sight.vertical_disparity_deg) <
          kPanumVertical + kOfDemand * magnitude(s.fusion.vertical_deg);
  percept.is_double = sight.both_seen && !agree && !hidden && sight.resolved[other];
  percept.separation_deg = -sight.disparity_deg;
  percept.vertical_deg = -sight.vertical_disparity_deg;
  percept.tilt_deg = s.torsion_deg.right - s.torsion_deg.left;
  for (const Eye eye : kBothEyes) {
    percept.monocular[eye] =
        p.sensory.monocular_diplopia[eye] && sight.seen[eye] && s.fixation.suppression[eye] < 0.5;
  }
  const double total = s.fusion.fast_deg + s.fusion.slow_deg + s.control.tenacious_deg;
  const bool beyond_blur = s.fusion.locked && (total > s.here.blur_high_deg * kFusionGain + 1e-6 ||
                                               total < s.here.blur_low_deg * kFusionGain - 1e-6);
  percept.clear = (sight.resolved.right || sight.resolved.left) && !beyond_blur;
  percept.jumped = s.fixation.since_jump_ms < 2000;
  return percept;
}

}  // namespace redress::patient
