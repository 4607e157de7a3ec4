// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/truth/truth.hpp"

#include <algorithm>

#include "sim/basics/elementary.hpp"
#include "sim/truth/conditions.hpp"
#include "sim/truth/control_score.hpp"
#include "sim/truth/dissociated.hpp"
#include "sim/truth/procedures.hpp"
#include "sim/truth/reading.hpp"
#include "sim/truth/solved.hpp"
#include "sim/truth/truth_parts.hpp"

namespace redress::truth {

using elementary::magnitude;

namespace {

constexpr double kReadingM = 0.5;  // nearer than this is read through the near part
constexpr double kGazeDeg = 25.0;
constexpr double kTiltDeg = 30.0;
constexpr double kLeastControlledPd = 2.0;  // exodeviation that has a control score
constexpr double kIncomitantPd = 5.0;  // "true incomitance greater than 5" (Repka & Arnoldi 1991)

std::vector<double> distances_of(Distances d) {
  std::vector<double> all{20.0, 6.0, 1.0, d.screen_m, d.near_working_m, 0.40, 0.33};
  std::vector<double> once;
  for (const double m : all) {
    const bool known =
        std::any_of(once.begin(), once.end(), [m](double k) { return magnitude(k - m) < 1e-9; });
    if (!known) once.push_back(m);
  }
  return once;
}

std::vector<Condition> calc_conditions(const ExaminationSetup& setup, double distance_m,
                                       bool spectacles) {
  Opening opening;
  opening.target = plain_target(distance_m);
  opening.spectacles = spectacles;
  const ManifestFinding manifest = calc_manifest(setup, opening);
  std::vector<Condition> conditions;
  for (const Eye fixing : kBothEyes) {
    Condition c = calc_dissociated_condition(setup, opening, fixing);
    apply_manifest(manifest, c);
    conditions.push_back(c);
  }
  return conditions;
}

Position calc_position(const ExaminationSetup& setup, double horizontal, double vertical,
                       double roll, Eye fixing) {
  Opening opening;
  opening.target = plain_target(6.0, horizontal, vertical);
  opening.head.roll = Degrees{roll};
  const Apart apart = calc_apart(setup, opening, fixing);
  const Deviation& d = apart.deviation;
  Position position;
  position.horizontal_deg = horizontal;
  position.vertical_deg = vertical;
  position.roll_deg = roll;
  position.fixing = fixing;
  position.cannot_fixate = !apart.reaches;
  position.horizontal_pd = d.horizontal_pd;
  position.vertical_pd = d.vertical_pd;
  position.torsion_deg = d.torsion_deg;
  if (!apart.label) return position;
  position.neutralising_horizontal_pd = apart.label->horizontal.value;
  position.neutralising_vertical_pd = apart.label->vertical.value;
  return position;
}

/// One position that is asked for.
struct Asked {
  double horizontal_deg;
  double vertical_deg;
  double roll_deg;
  Eye fixing;
};

std::vector<Asked> list_positions() {
  std::vector<Asked> asked;
  for (const Eye fixing : kBothEyes) {
    for (const double vertical : {kGazeDeg, 0.0, -kGazeDeg}) {
      for (const double horizontal : {-kGazeDeg, 0.0, kGazeDeg}) {
        asked.push_back({horizontal, vertical, 0.0, fixing});
      }
    }
    for (const double roll : {kTiltDeg, -kTiltDeg}) asked.push_back({0.0, 0.0, roll, fixing});
  }
  return asked;
}

void judge_comitance(Truth& truth) {
  for (const Eye fixing : kBothEyes) {
    const auto ahead = std::find_if(truth.gaze.begin(), truth.gaze.end(), [&](const Position& p) {
      return p.fixing == fixing && p.horizontal_deg == 0.0 && p.vertical_deg == 0.0;
    });
    if (ahead->cannot_fixate) continue;
    for (const Position& p : truth.gaze) {
      if (p.fixing != fixing || p.cannot_fixate) continue;
      const double change = std::max(magnitude(p.horizontal_pd - ahead->horizontal_pd),
                                     magnitude(p.vertical_pd - ahead->vertical_pd));
      truth.largest_change_pd = std::max(truth.largest_change_pd, change);
    }
  }
  // A gaze that an eye cannot take up is no comitance either, but for an eye that takes up none.
  const auto takes_up_none = [&](Eye eye) {
    return std::all_of(truth.gaze.begin(), truth.gaze.end(),
                       [&](const Position& p) { return p.fixing != eye || p.cannot_fixate; });
  };
  const PerEye<bool> none{takes_up_none(Eye::right), takes_up_none(Eye::left)};
  const bool all_reached =
      std::none_of(truth.gaze.begin(), truth.gaze.end(),
                   [&](const Position& p) { return p.cannot_fixate && !none[p.fixing]; });
  truth.comitant = truth.largest_change_pd < kIncomitantPd && all_reached;
}

std::optional<OwnPosture> calc_own_posture(const ExaminationSetup& setup) {
  if (setup.room.own_posture == HeadState{}) return std::nullopt;
  Opening opening;
  opening.target = plain_target(6.0);
  opening.own_posture = true;
  const Deviation d = calc_apart(setup, opening, setup.patient.sensory.preferred).deviation;
  return OwnPosture{setup.room.own_posture, d.horizontal_pd, d.vertical_pd, d.torsion_deg,
                    calc_manifest(setup, opening).manifest};
}

const Condition& condition_at(const Truth& truth, double distance_m) {
  return *std::find_if(truth.conditions.begin(), truth.conditions.end(), [&](const Condition& c) {
    return magnitude(c.distance_m - distance_m) < 1e-9;
  });
}

// AC/A by the heterophoria method: interpupillary distance in cm + near distance in m x (N - D).
double calc_ac_a_heterophoria(const ExaminationSetup& setup, const Truth& truth) {
  const double far = condition_at(truth, 6.0).horizontal_pd;
  const double near = condition_at(truth, 0.40).horizontal_pd;
  return setup.room.interpupillary.value / 10.0 + 0.40 * (near - far);
}

void add_control(const ExaminationSetup& setup, Truth& truth) {
  const bool far = condition_at(truth, 6.0).horizontal_pd <= -kLeastControlledPd;
  const bool near = condition_at(truth, 0.33).horizontal_pd <= -kLeastControlledPd;
  if (!far && !near) return;
  const ControlScore score = calc_control_scores(setup);
  if (far) truth.control_distance = score.distance;
  if (near) truth.control_near = score.near;
}

// The eye whose image is ignored while both eyes are open; seen in the suppression, not in the
// case.
WhichEyes find_suppression(const ExaminationSetup& setup) {
  Opening opening;
  opening.target = plain_target(6.0);
  Examination exam(setup, kCalm, opening);
  wait(exam, 500);
  return exam.observe().suppressed;
}

}  // namespace

Truth calc_deviations(const ExaminationSetup& setup, Distances distances, const Extent& extent,
                      const Spread& spread) {
  struct Place {
    double distance_m;
    bool spectacles;
    bool reading;
  };
  std::vector<Place> places;
  const bool owned = setup.room.spectacles_owned;
  const std::vector<double> all = distances_of(distances);
  for (const double distance_m : all) {
    if (owned) places.push_back({distance_m, true, false});
    places.push_back({distance_m, false, false});
  }
  for (const double distance_m : all) {
    if (owned && distance_m <= kReadingM) places.push_back({distance_m, true, true});
  }
  const std::vector<Asked> asked = extent.gaze ? list_positions() : std::vector<Asked>{};

  std::vector<std::vector<Condition>> conditions(places.size());
  std::vector<Position> positions(asked.size());
  spread(places.size() + asked.size(), [&](std::size_t i) {
    if (i < places.size()) {
      const Place& place = places[i];
      conditions[i] = place.reading ? calc_reading(setup, place.distance_m)
                                    : calc_conditions(setup, place.distance_m, place.spectacles);
      return;
    }
    const Asked& a = asked[i - places.size()];
    positions[i - places.size()] =
        calc_position(setup, a.horizontal_deg, a.vertical_deg, a.roll_deg, a.fixing);
  });

  Truth truth;
  for (std::size_t i = 0; i < places.size(); ++i) {
    auto& found = places[i].reading ? truth.reading : truth.conditions;
    found.insert(found.end(), conditions[i].begin(), conditions[i].end());
  }
  for (const Position& p : positions) {
    (p.roll_deg == 0.0 ? truth.gaze : truth.head_tilt).push_back(p);
  }
  truth.acuity_logmar = setup.patient.sensory.acuity_logmar;
  truth.ac_a_heterophoria_pd_per_d = calc_ac_a_heterophoria(setup, truth);
  if (extent.gaze) judge_comitance(truth);
  return truth;
}

void add_procedures(const ExaminationSetup& setup, const Extent& extent, const Spread& spread,
                    Truth& truth) {
  std::vector<double> with_reserves;
  if (extent.reserves) {
    with_reserves = {6.0, 0.40};
    if (setup.patient.fusion.far_distance) with_reserves.push_back(20.0);
    std::erase_if(with_reserves, [&](double distance_m) {
      return condition_at(truth, distance_m).manifest == Manifest::constant;
    });
  }
  truth.reserves.resize(with_reserves.size());
  // Each fills in places of its own. The long ones first.
  std::vector<std::function<void()>> pieces;
  pieces.emplace_back([&] { add_control(setup, truth); });
  for (std::size_t i = 0; i < with_reserves.size(); ++i) {
    pieces.emplace_back([&, i] { truth.reserves[i] = calc_reserves(setup, with_reserves[i]); });
  }
  if (extent.near_point) {
    pieces.emplace_back([&] {
      const NearPoint near_point = calc_near_point(setup);
      truth.near_point_break_cm = near_point.break_cm;
      truth.near_point_recovery_cm = near_point.recovery_cm;
    });
  }
  pieces.emplace_back([&] { truth.recovery_ms = calc_recovery_ms(setup, 6.0); });
  for (const Eye eye : kBothEyes) {
    pieces.emplace_back([&, eye] { truth.four_dioptre[eye] = calc_four_dioptre(setup, eye); });
  }
  pieces.emplace_back([&] { truth.own_posture = calc_own_posture(setup); });
  pieces.emplace_back([&] { truth.suppression_eye = find_suppression(setup); });
  pieces.emplace_back([&] { truth.ac_a_gradient_pd_per_d = calc_ac_a_gradient(setup); });
  spread(pieces.size(), [&](std::size_t i) { pieces[i](); });
  truth.diagnosis = calc_diagnosis(truth);
}

Truth calc_truth(const ExaminationSetup& setup, Distances distances, Extent extent) {
  const Spread in_turn = [](std::size_t count, const std::function<void(std::size_t)>& work) {
    for (std::size_t i = 0; i < count; ++i) work(i);
  };
  Truth truth = calc_deviations(setup, distances, extent, in_turn);
  add_procedures(setup, extent, in_turn, truth);
  return truth;
}

}  // namespace redress::truth
