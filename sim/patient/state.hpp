// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Everything about the patient that the next tick depends on, and the one list of it that serves
// hash, snapshot and comparison. Degrees, dioptres, milliseconds.
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>

#include "sim/basics/eye.hpp"
#include "sim/patient/angles.hpp"
#include "sim/patient/behaviour.hpp"
#include "sim/patient/control.hpp"
#include "sim/patient/pupil_faults.hpp"
#include "sim/patient/retinas.hpp"
#include "sim/patient/unsteady.hpp"

namespace redress::patient {

/// The last Size values of a signal. `back(n)`: the value pushed n ticks before the newest.
template <std::size_t Size>
class DelayLine {
  static_assert((Size & (Size - 1)) == 0, "a power of two, so that the index is a mask");

 public:
  void fill(double v) { values_.fill(v); }
  void push(double v) {
    newest_ = (newest_ + 1) & (Size - 1);
    values_[newest_] = v;
  }
  [[nodiscard]] double back(std::size_t ticks) const {
    return values_[(newest_ - ticks) & (Size - 1)];
  }
  /// Oldest first, so that two lines with the same history compare equal.
  template <class Visitor>
  void visit(const char* name, Visitor& visitor) const {
    for (std::size_t i = 1; i <= Size; ++i) visitor(name, values_[(newest_ + i) & (Size - 1)]);
  }

 private:
  std::array<double, Size> values_{};
  std::size_t newest_ = 0;
};

/// Disparity vergence. `total` is fast plus slow.
struct FusionState {
  bool locked = true;       ///< motor fusion is held
  bool settled = true;      ///< vergence has arrived: small images in a scotoma move nothing
  double demand_deg = 0.0;  ///< m: remembered demand on fast vergence
  double fast_deg = 0.0;    ///< x_f
  double slow_deg = 0.0;    ///< x_s: prism adaptation
  double vertical_demand_deg = 0.0;
  double vertical_deg = 0.0;    ///< x_v
  std::int32_t invalid_ms = 0;  ///< since disparity was last felt
  std::int32_t seen_ms = 0;     ///< both images have been there for so long
  DelayLine<256> disparity;
  DelayLine<256> total;
  DelayLine<256> vertical_disparity;
  DelayLine<256> vertical_total;
  DelayLine<256> seen;
};

struct FixationState {
  Eye eye = Eye::right;            ///< drives saccades while the eyes are not fused
  std::int32_t switch_in_ms = -1;  ///< until the other eye takes over; -1 no change is due
  bool stays = false;              ///< drawn: the present eye keeps fixation
  bool both_seen = true;           ///< at the last tick
  bool drawn = false;              ///< the choice for this spell of seeing double was drawn
  PerEye<double> suppression{};
  PerEye<double> attention{};        ///< an image that jumped or appeared draws the eyes
  PerEye<double> last_horizontal{};  ///< direction of each image at the last tick
  PerEye<double> last_vertical{};
  PerEye<bool> last_present{true, true};
  std::int32_t since_jump_ms = 100000;
  std::uint32_t choices = 0;  ///< events drawn so far
  std::uint32_t jumps = 0;
};

struct SaccadeState {
  bool moving = false;
  bool fixational = false;        ///< the one under way, or the last, is a microsaccade
  std::int32_t decision_ms = -1;  ///< until it starts; -1 none is being prepared
  std::int32_t elapsed_ms = 0;    ///< of the one under way
  std::int32_t duration_ms = 0;
  double amplitude_deg = 0.0;
  double scale = 1.0;  ///< makes the increments add up to the amplitude
  double done = 0.0;   ///< of the waveform
  Angles direction;
  double speed_deg_s = 470.0;
  std::int32_t since_last_ms = 100000;
  double error_before_deg = 0.0;
  std::int32_t fruitless = 0;  ///< corrections in a row that did not help
  std::uint32_t count = 0;
  DelayLine<128> error_horizontal;
  DelayLine<128> error_vertical;
};

/// In the state only while something moves or has just moved.
struct PursuitState {
  bool active = false;
  std::int32_t still_ms = 0;  ///< since the target last moved
  Angles speed;               ///< of the eyes, deg/s
  DelayLine<128> seen_horizontal;
  DelayLine<128> seen_vertical;
};

/// Horizontal, vertical, torsion (muscle frame, degrees) and pull of an eye's departure.
using MuscleValues = std::array<double, 4>;

/// In the state only of a patient in whom muscles are in force (sim/patient/muscles.hpp).
struct MuscleState {
  bool in_force = false;
  PerEye<Angles> told;               ///< command at the last tick, muscle frame
  PerEye<MuscleValues> lagging{};    ///< innervation's part of the departure
  PerEye<MuscleValues> departure{};  ///< in force now: follows from the rest
  double phasic_deg = 0.0;           ///< of both eyes, beyond the version: fades after a saccade
  double fatigue = 0.0;              ///< 0 fresh ... 1
  bool gave_up = false;              ///< the target is out of the fixing eye's reach
  Angles out_of_reach;               ///< the error at which it gave up
};

struct AccommodationState {
  double blur_driven_d = 0.0;  ///< A_b: what drives accommodative vergence
  double response_d = 0.0;     ///< A: with the part that vergence adds
  DelayLine<512> goal;
};

struct InstabilityState {
  Angles drift_speed;
  double vergence_deg = 0.0;  ///< wander of the resting vergence
  std::int32_t blink_in_ms = 2500;
  std::int32_t blink_ms = -1;  ///< since it began; -1 none
  double blink_depth = 0.0;    ///< 0 ... 1, how far the lids come down
  std::uint32_t blinks = 0;
  std::int32_t lapse_in_ms = -1;  ///< until attention wanders; -1 never
  std::int32_t lapse_ms = 0;      ///< left of the present lapse
  Angles glance;
  std::uint32_t lapses = 0;
  std::int32_t effort_ms = 0;             ///< left of an effort to see single
  std::int32_t urged = 0;                 ///< the last count of the instructions
  std::int32_t microsaccade_in_ms = 900;  ///< that takes something back
  std::uint32_t microsaccades = 0;
  std::int32_t spontaneous_in_ms = 0;  ///< microsaccade that comes by itself
  std::uint32_t spontaneous = 0;
  bool lost = false;  ///< no eye makes the target out
  Angles lost_at;     ///< where the eyes were when that began: they wander about there
};

struct PupilState {
  PerEye<double> diameter_mm{4.0, 4.0};
  double hippus_mm = 0.0;
  DelayLine<256> goal_right;
  DelayLine<256> goal_left;
};

/// What follows from the target's nearness alone; kept so as not to be computed at every tick. Not
/// part of the state: it is recomputed when the nearness differs.
struct AtThisDistance {
  double nearness_d = -1.0;
  double resting_deg = 0.0;     ///< resting vergence less its accommodative part
  double deviation_deg = 0.0;   ///< resting deviation with the target's own demand
  double break_high_deg = 0.0;  ///< limits of the total fusional demand, convergence +
  double break_low_deg = 0.0;
  double recovery_high_deg = 0.0;
  double recovery_low_deg = 0.0;
  double blur_high_deg = 0.0;
  double blur_low_deg = 0.0;
  double vertical_break_high_deg = 0.0;
  double vertical_break_low_deg = 0.0;
  double vertical_recovery_high_deg = 0.0;
  double vertical_recovery_low_deg = 0.0;
  double greatest_disparity_deg = 6.0;  ///< that still starts fusion
};

struct State {
  std::int64_t tick = 0;
  Angles version;                      ///< C: the command common to both eyes
  double vergence_deg = 0.0;           ///< V: left eye's horizontal less the right eye's
  double vertical_vergence_deg = 0.0;  ///< W: right eye higher +
  double counter_roll_deg = 0.0;
  PerEye<Angles> gaze;  ///< lines of sight
  PerEye<double> torsion_deg;
  double lid_open_fraction = 1.0;
  FusionState fusion;
  FixationState fixation;
  SaccadeState saccade;
  PursuitState pursuit;
  MuscleState muscles;
  AccommodationState accommodation;
  InstabilityState instability;
  PupilState pupil;
  UnsteadyState unsteady;
  ControlState control;
  BehaviourState behaviour;
  LidState lids;
  AtThisDistance here;
};

/// Calls visit(name, value) for every field of the state, always in the same order.
template <class Visitor>
void visit_fields(const State& s, Visitor& visit) {
  visit("tick", s.tick);
  visit("version.horizontal", s.version.horizontal);
  visit("version.vertical", s.version.vertical);
  visit("vergence_deg", s.vergence_deg);
  visit("vertical_vergence_deg", s.vertical_vergence_deg);
  visit("counter_roll_deg", s.counter_roll_deg);
  for (const Eye eye : kBothEyes) {
    visit("gaze.horizontal", s.gaze[eye].horizontal);
    visit("gaze.vertical", s.gaze[eye].vertical);
    visit("torsion_deg", s.torsion_deg[eye]);
  }
  visit("lid_open_fraction", s.lid_open_fraction);

  const FusionState& f = s.fusion;
  visit("fusion.locked", f.locked);
  visit("fusion.settled", f.settled);
  visit("fusion.demand_deg", f.demand_deg);
  visit("fusion.fast_deg", f.fast_deg);
  visit("fusion.slow_deg", f.slow_deg);
  visit("fusion.vertical_demand_deg", f.vertical_demand_deg);
  visit("fusion.vertical_deg", f.vertical_deg);
  visit("fusion.invalid_ms", f.invalid_ms);
  visit("fusion.seen_ms", f.seen_ms);
  f.disparity.visit("fusion.disparity", visit);
  f.total.visit("fusion.total", visit);
  f.vertical_disparity.visit("fusion.vertical_disparity", visit);
  f.vertical_total.visit("fusion.vertical_total", visit);
  f.seen.visit("fusion.seen", visit);

  const FixationState& x = s.fixation;
  visit("fixation.eye", x.eye == Eye::left);
  visit("fixation.switch_in_ms", x.switch_in_ms);
  visit("fixation.stays", x.stays);
  visit("fixation.both_seen", x.both_seen);
  visit("fixation.drawn", x.drawn);
  for (const Eye eye : kBothEyes) {
    visit("fixation.suppression", x.suppression[eye]);
    visit("fixation.attention", x.attention[eye]);
    visit("fixation.last_horizontal", x.last_horizontal[eye]);
    visit("fixation.last_vertical", x.last_vertical[eye]);
    visit("fixation.last_present", x.last_present[eye]);
  }
  visit("fixation.since_jump_ms", x.since_jump_ms);
  visit("fixation.choices", x.choices);
  visit("fixation.jumps", x.jumps);

  const SaccadeState& c = s.saccade;
  visit("saccade.moving", c.moving);
  visit("saccade.fixational", c.fixational);
  visit("saccade.decision_ms", c.decision_ms);
  visit("saccade.elapsed_ms", c.elapsed_ms);
  visit("saccade.duration_ms", c.duration_ms);
  visit("saccade.amplitude_deg", c.amplitude_deg);
  visit("saccade.scale", c.scale);
  visit("saccade.done", c.done);
  visit("saccade.direction.horizontal", c.direction.horizontal);
  visit("saccade.direction.vertical", c.direction.vertical);
  visit("saccade.speed_deg_s", c.speed_deg_s);
  visit("saccade.since_last_ms", c.since_last_ms);
  visit("saccade.error_before_deg", c.error_before_deg);
  visit("saccade.fruitless", c.fruitless);
  visit("saccade.count", c.count);
  c.error_horizontal.visit("saccade.error_horizontal", visit);
  c.error_vertical.visit("saccade.error_vertical", visit);

  visit("accommodation.blur_driven_d", s.accommodation.blur_driven_d);
  visit("accommodation.response_d", s.accommodation.response_d);
  s.accommodation.goal.visit("accommodation.goal", visit);

  const InstabilityState& n = s.instability;
  visit("instability.drift_speed.horizontal", n.drift_speed.horizontal);
  visit("instability.drift_speed.vertical", n.drift_speed.vertical);
  visit("instability.vergence_deg", n.vergence_deg);
  visit("instability.blink_in_ms", n.blink_in_ms);
  visit("instability.blink_ms", n.blink_ms);
  visit("instability.blink_depth", n.blink_depth);
  visit("instability.blinks", n.blinks);
  visit("instability.lapse_in_ms", n.lapse_in_ms);
  visit("instability.lapse_ms", n.lapse_ms);
  visit("instability.glance.horizontal", n.glance.horizontal);
  visit("instability.glance.vertical", n.glance.vertical);
  visit("instability.lapses", n.lapses);
  visit("instability.effort_ms", n.effort_ms);
  visit("instability.urged", n.urged);
  visit("instability.microsaccade_in_ms", n.microsaccade_in_ms);
  visit("instability.microsaccades", n.microsaccades);
  visit("instability.spontaneous_in_ms", n.spontaneous_in_ms);
  visit("instability.spontaneous", n.spontaneous);
  if (n.lost) {
    visit("instability.lost_at.horizontal", n.lost_at.horizontal);
    visit("instability.lost_at.vertical", n.lost_at.vertical);
  }

  if (s.pursuit.active) {
    visit("pursuit.still_ms", s.pursuit.still_ms);
    visit("pursuit.speed.horizontal", s.pursuit.speed.horizontal);
    visit("pursuit.speed.vertical", s.pursuit.speed.vertical);
    s.pursuit.seen_horizontal.visit("pursuit.seen_horizontal", visit);
    s.pursuit.seen_vertical.visit("pursuit.seen_vertical", visit);
  }

  if (s.muscles.in_force) {
    const MuscleState& m = s.muscles;
    for (const Eye eye : kBothEyes) {
      visit("muscles.told.horizontal", m.told[eye].horizontal);
      visit("muscles.told.vertical", m.told[eye].vertical);
      for (const double value : m.lagging[eye]) visit("muscles.lagging", value);
      for (const double value : m.departure[eye]) visit("muscles.departure", value);
    }
    visit("muscles.phasic_deg", m.phasic_deg);
    visit("muscles.fatigue", m.fatigue);
    visit("muscles.gave_up", m.gave_up);
    visit("muscles.out_of_reach.horizontal", m.out_of_reach.horizontal);
    visit("muscles.out_of_reach.vertical", m.out_of_reach.vertical);
  }

  for (const Eye eye : kBothEyes) visit("pupil.diameter_mm", s.pupil.diameter_mm[eye]);
  visit("pupil.hippus_mm", s.pupil.hippus_mm);
  s.pupil.goal_right.visit("pupil.goal_right", visit);
  s.pupil.goal_left.visit("pupil.goal_left", visit);
  visit_fields(s.unsteady, visit);
  visit_fields(s.control, visit);
  visit_fields(s.behaviour, visit);
  visit_fields(s.lids, visit);
}

}  // namespace redress::patient
