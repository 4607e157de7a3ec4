// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/truth/solved.hpp"

#include <algorithm>

#include "sim/basics/elementary.hpp"
#include "sim/optics/sight.hpp"
#include "sim/patient/fusion.hpp"
#include "sim/patient/step.hpp"
#include "sim/truth/reading.hpp"

namespace redress::truth {

using elementary::magnitude;

namespace {

// So near a limit the last hundredths of a degree decide, which only running tells.
constexpr double kRoomDeg = 0.1;
constexpr double kReadsLogmar = 1.0;  // sees form enough to fuse with
constexpr double kOnTargetDeg = 0.01;
constexpr double kStraightPd = 1.0;

/// The room and the patient as they stand at an opening.
struct AtRest {
  RoomState room;
  patient::State patient;
};

// Whether an opening is a steady state from its first moment. How steady an eye holds is a matter
// of chance, of which there is none here.
bool is_still(const ExaminationSetup& setup) {
  const patient::Parameters& p = setup.patient;
  const patient::Unsteadiness& u = p.unsteadiness;
  return !p.control.in_force() && u.latent_nystagmus_deg == 0.0 && u.infantile_deg == 0.0 &&
         !p.behaviour.in_force() && !p.lids.in_force() && p.accommodation.spasm_d == 0.0 &&
         !p.muscles.tired.right && !p.muscles.tired.left;
}

// Two healthy eyes in healthy muscles.
bool has_plain_eyes(const ExaminationSetup& setup) {
  const patient::Parameters& p = setup.patient;
  const auto& acuity = p.sensory.acuity_logmar;
  const auto& beside = p.sensory.eccentric_turn_deg;
  return is_still(setup) && !p.muscles.in_force() && !p.unsteadiness.has_dvd() &&
         beside.right == 0.0 && beside.left == 0.0 &&
         std::max(acuity.right, acuity.left) <= kReadsLogmar;
}

// Nothing about this patient but where the eyes rest and what fusion can hold. A suppression that
// is there only while the eyes are apart changes neither.
bool is_plain(const ExaminationSetup& setup) {
  const patient::Parameters& p = setup.patient;
  const auto& scotoma = p.sensory.scotoma_reach_deg;
  return has_plain_eyes(setup) && p.fusion.present && scotoma.right == 0.0 && scotoma.left == 0.0;
}

// As Examination opens.
AtRest open_at_rest(const ExaminationSetup& setup, const Opening& opening,
                    const std::optional<act::HoldPrism>& prism = std::nullopt) {
  AtRest now{opening_room(setup.room, opening.target), {}};
  const auto apply = [&](const ActContent& content) {
    apply_act(setup.room, content, 0, now.room);
  };
  if (opening.spectacles) apply(act::Spectacles{*opening.spectacles});
  apply(act::TrialLenses{opening.lenses_d});
  const HeadState& head = opening.own_posture ? setup.room.own_posture : opening.head;
  if (head != HeadState{}) {
    apply(act::TiltHead{head.roll.value, head.turn.value, head.chin.value});
  }
  if (prism) apply(*prism);
  if (opening.covered) {
    act::Cover cover;
    cover.eye = *opening.covered;
    cover.travel_ms = 0;
    apply(cover);
  }
  find_covered(setup.room, now.patient.gaze, now.room);
  now.patient = patient::opening_state(setup.patient, calc_retinas(setup.room, now.room));
  find_covered(setup.room, now.patient.gaze, now.room);
  return now;
}

Deviation deviation_of(const ExaminationSetup& setup, const AtRest& now) {
  PerEye<GazeAngles> to_target;
  for (const Eye eye : kBothEyes) {
    const Vector centre = optics::centre_of_rotation(eye, setup.room.interpupillary);
    to_target[eye] = gaze_angles(now.room.appearance[eye].target - centre);
  }
  const auto& gaze = now.patient.gaze;
  const double turned = gaze.left.horizontal - gaze.right.horizontal;
  const double asked = to_target.left.horizontal.value - to_target.right.horizontal.value;
  const double raised = gaze.right.vertical - gaze.left.vertical;
  const double level = to_target.right.vertical.value - to_target.left.vertical.value;
  return {to_prism_dioptres(Degrees{turned - asked}).value,
          to_prism_dioptres(Degrees{raised - level}).value,
          now.patient.torsion_deg.right - now.patient.torsion_deg.left};
}

/// What fusion is asked for, degrees.
struct Demand {
  double across = 0.0;
  double height = 0.0;
};

Demand demand_of(const AtRest& now) {
  const patient::FusionState& f = now.patient.fusion;
  return {f.disparity.back(0) + f.total.back(0),
          f.vertical_disparity.back(0) + f.vertical_total.back(0)};
}

// By how much a demand lies within limits; below 0: outside them.
double room_to_break(const patient::AtThisDistance& here, Demand d) {
  return std::min({d.across - here.break_low_deg, here.break_high_deg - d.across,
                   d.height - here.vertical_break_low_deg,
                   here.vertical_break_high_deg - d.height});
}
// Fusion sets in again from the whole disparity.
double room_to_recovery(const patient::AtThisDistance& here, Demand d) {
  return std::min({here.greatest_disparity_deg - magnitude(d.across),
                   d.across - here.recovery_low_deg, here.recovery_high_deg - d.across,
                   d.height - here.vertical_recovery_low_deg,
                   here.vertical_recovery_high_deg - d.height});
}

}  // namespace

std::optional<Apart> solve_apart(const ExaminationSetup& setup, const Opening& opening,
                                 Eye fixing) {
  if (!is_still(setup) || setup.patient.sensory.acuity_logmar[fixing] > kReadsLogmar) {
    return std::nullopt;
  }
  Opening covered = opening;
  covered.covered = fellow(fixing);
  const AtRest now = open_at_rest(setup, covered);
  // An eye that does not get there gives up after a while, somewhere.
  const auto& gaze = now.patient.gaze[fixing];
  const Appearance& aim = now.room.appearance[fixing];
  const double aside = setup.patient.sensory.eccentric_turn_deg[fixing];
  if (elementary::hypotenuse(gaze.horizontal - aim.horizontal_deg - aside,
                             gaze.vertical - aim.vertical_deg) > kOnTargetDeg) {
    return std::nullopt;
  }
  Apart found;
  found.deviation = deviation_of(setup, now);
  found.spectacles = now.room.spectacles_worn;
  found.lens = find_used_lens(setup.room, now.room, fixing);
  const Eye other = fellow(fixing);
  const auto& turned = now.patient.gaze[other];
  found.label = optics::neutralising(
      other, line_of_sight({Degrees{turned.horizontal}, Degrees{turned.vertical}}),
      optics::centre_of_rotation(other, setup.room.interpupillary),
      now.room.appearance[other].target, find_lens(now.room, other));
  return found;
}

Apart run_apart(const ExaminationSetup& setup, const Opening& opening, Eye fixing) {
  const Examination exam = dissociate(setup, opening, fixing);
  Apart found;
  found.deviation = calc_deviation(exam);
  found.reaches = reaches_target(exam, fixing);
  found.spectacles = exam.room().spectacles_worn;
  found.lens = find_used_lens(exam, fixing);
  if (found.reaches) found.label = calc_neutralising(exam, fellow(fixing));
  return found;
}

Apart calc_apart(const ExaminationSetup& setup, const Opening& opening, Eye fixing) {
  if (const auto solved = solve_apart(setup, opening, fixing)) return *solved;
  return run_apart(setup, opening, fixing);
}

std::optional<ManifestFinding> solve_manifest(const ExaminationSetup& setup,
                                              const Opening& opening) {
  if (opening.covered) return std::nullopt;
  if (has_plain_eyes(setup) && !setup.patient.fusion.present) {
    ManifestFinding found;
    found.manifest = Manifest::constant;
    found.deviation = deviation_of(setup, open_at_rest(setup, opening));
    return found;
  }
  if (!is_plain(setup)) return std::nullopt;
  const AtRest open = open_at_rest(setup, opening);
  const patient::Retinas images = calc_retinas(setup.room, open.room);
  const auto& right = images.image.right;
  const auto& left = images.image.left;
  if (!right.present || !left.present) return std::nullopt;
  const patient::AtThisDistance& here = open.patient.here;
  if (room_to_break(here, demand_of(open)) < kRoomDeg) return std::nullopt;
  const auto& gaze = open.patient.gaze;
  const double across =
      (gaze.left.horizontal - gaze.right.horizontal) - (left.horizontal_deg - right.horizontal_deg);
  const double height =
      (gaze.right.vertical - gaze.left.vertical) - (right.vertical_deg - left.vertical_deg);
  if (to_prism_dioptres(Degrees{std::max(magnitude(across), magnitude(height))}).value >=
      kStraightPd) {
    return std::nullopt;  // held at an angle
  }
  // Each eye is covered in turn, and from there fusion comes back or does not.
  int regained = 0;
  int lost = 0;
  PerEye<Deviation> apart_by;
  for (const Eye covered : kBothEyes) {
    Opening apart = opening;
    apart.covered = covered;
    const AtRest now = open_at_rest(setup, apart);
    apart_by[covered] = deviation_of(setup, now);
    const patient::State& s = now.patient;
    const Demand demand{(left.horizontal_deg - right.horizontal_deg) +
                            setup.patient.fusion.anomaly_deg - s.vergence_deg,
                        (right.vertical_deg - left.vertical_deg) - s.vertical_vergence_deg};
    const double room = room_to_recovery(here, demand);
    regained += room >= kRoomDeg ? 1 : 0;
    lost += room <= -kRoomDeg ? 1 : 0;
  }
  if (regained == 2) return ManifestFinding{};
  constexpr double kSamePd = 0.01;  // whichever eye fixes then
  const bool same =
      magnitude(apart_by.right.horizontal_pd - apart_by.left.horizontal_pd) < kSamePd &&
      magnitude(apart_by.right.vertical_pd - apart_by.left.vertical_pd) < kSamePd;
  if (lost < 2 || !same) return std::nullopt;
  ManifestFinding found;
  found.manifest = Manifest::intermittent;
  found.deviation = apart_by.right;
  return found;
}

bool is_held_for_sure(const ExaminationSetup& setup, double distance_m, double least_deg) {
  const patient::Parameters& p = setup.patient;
  if (!is_plain(setup) || p.instability.attention < 1.0 ||
      p.unsteadiness.square_waves_per_minute > 0.0) {
    return false;
  }
  Opening opening;
  opening.target = plain_target(distance_m);
  const AtRest open = open_at_rest(setup, opening);
  return room_to_break(open.patient.here, demand_of(open)) >= least_deg;
}

std::optional<double> solve_near_limit_m(const ExaminationSetup& setup, double farthest_m,
                                         double nearest_m) {
  constexpr double kStepM = 0.01;
  if (!is_plain(setup)) return std::nullopt;
  for (double distance_m = farthest_m; distance_m >= nearest_m; distance_m -= kStepM) {
    Opening opening;
    opening.target = plain_target(distance_m);
    const AtRest now = open_at_rest(setup, opening);
    if (room_to_break(now.patient.here, demand_of(now)) < kRoomDeg) return distance_m;
  }
  return 0.0;
}

std::optional<ReserveReading> solve_reserve(const ExaminationSetup& setup, double distance_m,
                                            double base_deg, std::span<const double> bar,
                                            const HoldsAfter& holds_after) {
  if (!is_plain(setup)) return std::nullopt;
  Opening opening;
  opening.target = plain_target(distance_m);
  const auto behind = [&](double label) {
    if (label == 0.0) return open_at_rest(setup, opening);
    act::HoldPrism prism;
    prism.eye = Eye::left;
    prism.power = PrismDioptres{label};
    prism.base = Degrees{base_deg};
    return open_at_rest(setup, opening, prism);
  };
  if (const AtRest open = behind(0.0);
      room_to_break(open.patient.here, demand_of(open)) < kRoomDeg) {
    return std::nullopt;
  }
  ReserveReading reading;
  std::size_t step = 0;
  for (; step < bar.size(); ++step) {
    const AtRest now = behind(bar[step]);
    const double room = room_to_break(now.patient.here, demand_of(now));
    const bool breaks = magnitude(room) < kRoomDeg
                            ? !holds_after(step > 0 ? bar[step - 1] : 0.0, bar[step])
                            : room < 0.0;
    if (breaks) {
      reading.break_pd = bar[step];
      break;
    }
    const patient::Retinas images = calc_retinas(setup.room, now.room);
    const bool clear = patient::calc_percept(setup.patient, images, now.patient).clear;
    if (!reading.blur_pd && !clear) reading.blur_pd = bar[step];
  }
  if (!reading.break_pd) return reading;
  for (;;) {
    const double label = step > 0 ? bar[step - 1] : 0.0;
    const AtRest now = behind(label);
    const double room = room_to_recovery(now.patient.here, demand_of(now));
    const bool regains =
        magnitude(room) < kRoomDeg ? holds_after(*reading.break_pd, label) : room > 0.0;
    if (regains) {
      reading.recovery_pd = label;
      return reading;
    }
    if (step == 0) return reading;
    --step;
  }
}

}  // namespace redress::truth
