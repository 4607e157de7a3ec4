// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/cases/muscle_setup.hpp"

#include <algorithm>

#include "sim/basics/elementary.hpp"
#include "sim/cases/case_words.hpp"
#include "sim/cases/made_muscles.hpp"

namespace redress {

using patient::Direction3;
using patient::EyeMuscles;

EyeMuscles eye_muscles_of(const Case& c, Eye eye, bool tired) {
  EyeMuscles muscles;
  const double left = tired ? 1.0 - c.fatigability[eye] : 1.0;
  std::size_t i = 0;
  for (const MuscleWord& word : kMuscleWords) {  // in the plant's order
    const CaseMuscle& from = c.muscles[eye].*word.muscle;
    patient::MuscleCondition& to = muscles.muscle[i++];
    to.strength = from.strength * left;
    if (from.limit) to.limit_deg = from.limit->value;
    to.limit_stiffness = from.limit_stiffness;
    to.shorter_deg = from.shorter.value;
    to.stiffness = from.stiffness;
  }
  muscles.share_of_medial = c.muscles[eye].lateral_rectus.share_of_medial;
  muscles.version_gain = c.muscles[eye].medial_rectus.version_gain;
  return muscles;
}

std::optional<Direction3> find_restless(const Case& c, Eye eye, bool tired,
                                        const patient::Muscles* made) {
  const EyeMuscles muscles = eye_muscles_of(c, eye, tired);
  if (is_healthy(muscles)) return std::nullopt;
  const auto plant = made != nullptr ? eye_plant_of(c, eye, tired, *made) : std::nullopt;
  if (plant && !plant->whole.is_solved_when_read()) {
    if (plant->whole.restless_at()) return plant->whole.restless_at();
    return plant->innervated ? plant->innervated->restless_at() : std::nullopt;
  }
  constexpr double kReach = patient::kGreatestCommand;
  const patient::Plant cold;
  for (double v = -kReach; v <= kReach; v += 10.0) {
    for (double h = -kReach; h <= kReach; h += 10.0) {
      if (!cold.calc_departure(muscles, {h, v, 0.0})) return Direction3{h, v, 0.0};
    }
  }
  return std::nullopt;
}

std::optional<patient::EyePlant> eye_plant_of(const Case& c, Eye eye, bool tired,
                                              const patient::Muscles& made,
                                              patient::NodesSolved when) {
  const EyeMuscles muscles = eye_muscles_of(c, eye, tired);
  const auto& before = tired ? made.tired[eye] : made.plant[eye];
  const bool same = before && before->muscles == muscles && made.tilt_gain == c.tilt_gain;
  return same ? before : patient::make_eye_plant(muscles, c.tilt_gain, when);
}

patient::Muscles muscles_of(const Case& c, const patient::Muscles& made) {
  patient::Muscles muscles;
  muscles.tilt_gain = c.tilt_gain;
  muscles.skew_deg = to_degrees(c.skew).value;
  for (const Eye eye : kBothEyes) {
    muscles.plant[eye] = eye_plant_of(c, eye, false, made);
    if (c.fatigability[eye] != 0.0) muscles.tired[eye] = eye_plant_of(c, eye, true, made);
  }
  return muscles;
}

ExaminationSetup set_up_draft(const Case& c, const patient::Muscles& made) {
  constexpr auto kWhenRead = patient::NodesSolved::when_read;
  patient::Muscles plants;
  plants.tilt_gain = c.tilt_gain;
  for (const Eye eye : kBothEyes) {
    plants.plant[eye] = eye_plant_of(c, eye, false, made, kWhenRead);
    if (c.fatigability[eye] != 0.0) plants.tired[eye] = eye_plant_of(c, eye, true, made, kWhenRead);
  }
  return setup_of(c, plants);
}

double calc_muscle_deviation_deg(const Case& c) {
  const patient::Plant plant;
  double apart = elementary::magnitude(to_degrees(c.skew).value);
  for (const Eye eye : kBothEyes) {
    const EyeMuscles muscles = eye_muscles_of(c, eye, false);
    if (is_healthy(muscles)) continue;
    const auto found = plant.calc_departure(muscles, {});
    if (!found) continue;
    const Direction3& turn = found->turn;
    apart += elementary::hypotenuse(turn.horizontal, turn.vertical);
  }
  return apart;
}

}  // namespace redress
