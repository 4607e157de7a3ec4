// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/truth/reading.hpp"

#include "sim/optics/sight.hpp"
#include "sim/truth/conditions.hpp"

namespace redress::truth {

namespace {

constexpr double kNearShare = 0.9;
constexpr double kDistanceShare = 0.1;
constexpr double kLowestDeg = 45.0;

UsedLens find_part(const optics::Lens& lens, Vector centre, Vector target) {
  if (lens.design == optics::LensDesign::single || lens.add_d == 0.0) return UsedLens::distance;
  const auto seen = optics::look_through(lens, centre, target);
  if (!seen) return UsedLens::distance;
  const double share = optics::mean_of(seen->power - lens.power) / lens.add_d;
  if (share >= kNearShare) return UsedLens::near;
  return share > kDistanceShare ? UsedLens::intermediate : UsedLens::distance;
}

}  // namespace

UsedLens find_used_lens(const Examination& exam, Eye eye) {
  return find_used_lens(exam.setup().room, exam.room(), eye);
}

UsedLens find_used_lens(const RoomParameters& parameters, const RoomState& room, Eye eye) {
  const optics::Lens* lens = find_lens(room, eye);
  if (lens == nullptr) return UsedLens::none;
  return find_part(*lens, optics::centre_of_rotation(eye, parameters.interpupillary),
                   room.appearance[eye].target);
}

std::optional<double> find_reading_gaze(const ExaminationSetup& setup, double distance_m, Eye eye) {
  const auto& lens = setup.room.spectacles[eye];
  if (!lens || lens->contact || lens->add_d == 0.0) return std::nullopt;
  const Vector centre = optics::centre_of_rotation(eye, setup.room.interpupillary);
  for (double down = 0.0; down <= kLowestDeg; down += 1.0) {
    const Vector target = optics::target_point(distance_m, 0.0, -down);
    if (find_part(*lens, centre, target) == UsedLens::near) return -down;
  }
  return std::nullopt;
}

std::vector<Condition> calc_reading(const ExaminationSetup& setup, double distance_m) {
  std::vector<Condition> found;
  for (const Eye fixing : kBothEyes) {
    const auto gaze = find_reading_gaze(setup, distance_m, fixing);
    if (!gaze) continue;
    Opening opening;
    opening.target = plain_target(distance_m, 0.0, *gaze);
    opening.spectacles = true;
    Condition c = calc_dissociated_condition(setup, opening, fixing);
    apply_manifest(calc_manifest(setup, opening), c);
    found.push_back(c);
  }
  return found;
}

}  // namespace redress::truth
