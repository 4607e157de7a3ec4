// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/truth/dissociated.hpp"

#include "sim/basics/elementary.hpp"
#include "sim/optics/sight.hpp"
#include "sim/patient/muscles.hpp"

namespace redress::truth {

namespace {
constexpr double kPlainSizeLogmar = 1.6;
constexpr Tick kStandMs = 1000;  // after an opening that has settled already
constexpr double kReachedDeg = 1.0;
}  // namespace

act::ShowTarget plain_target(double distance_m, double horizontal_deg, double vertical_deg) {
  act::ShowTarget target;
  target.distance_m = distance_m;
  target.size_logmar = kPlainSizeLogmar;
  target.horizontal_deg = horizontal_deg;
  target.vertical_deg = vertical_deg;
  return target;
}

void wait(Examination& exam, Tick ms) {
  for (Tick t = 0; t < ms; ++t) exam.step();
}

Deviation calc_deviation(const Examination& exam) {
  const Observation o = exam.observe();
  const auto& appearance = exam.room().appearance;
  PerEye<GazeAngles> to_target;
  for (const Eye eye : kBothEyes) {
    const Vector centre = optics::centre_of_rotation(eye, exam.setup().room.interpupillary);
    to_target[eye] = gaze_angles(appearance[eye].target - centre);
  }
  const double turned = o.eye.left.horizontal_deg - o.eye.right.horizontal_deg;
  const double asked = to_target.left.horizontal.value - to_target.right.horizontal.value;
  const double raised = o.eye.right.vertical_deg - o.eye.left.vertical_deg;
  const double level = to_target.right.vertical.value - to_target.left.vertical.value;
  return {to_prism_dioptres(Degrees{turned - asked}).value,
          to_prism_dioptres(Degrees{raised - level}).value,
          o.eye.right.torsion_deg - o.eye.left.torsion_deg};
}

Deviation calc_misalignment(const Examination& exam) {
  const Observation o = exam.observe();
  const auto& a = exam.room().appearance;
  const auto& right = o.eye.right;
  const auto& left = o.eye.left;
  const double horizontal = (left.horizontal_deg - right.horizontal_deg) -
                            (a.left.horizontal_deg - a.right.horizontal_deg);
  const double vertical =
      (right.vertical_deg - left.vertical_deg) - (a.right.vertical_deg - a.left.vertical_deg);
  return {to_prism_dioptres(Degrees{horizontal}).value, to_prism_dioptres(Degrees{vertical}).value,
          right.torsion_deg - left.torsion_deg};
}

std::optional<optics::NeutralisingLabel> calc_neutralising(const Examination& exam, Eye eye) {
  const Observation seen = exam.observe();
  double horizontal_deg = seen.eye[eye].horizontal_deg;
  double vertical_deg = seen.eye[eye].vertical_deg;
  const patient::Parameters& p = exam.setup().patient;
  if (p.unsteadiness.infantile_deg > 0.0 || p.unsteadiness.latent_nystagmus_deg > 0.0) {
    // Both eyes beat together. By what the fixing eye is off at this moment, so is its fellow; no
    // prism is asked to take that away.
    const Eye fixing = fellow(eye);
    const Appearance& aim = exam.room().appearance[fixing];
    horizontal_deg -=
        seen.eye[fixing].horizontal_deg - aim.horizontal_deg - p.sensory.eccentric_turn_deg[fixing];
    vertical_deg -= seen.eye[fixing].vertical_deg - aim.vertical_deg;
  }
  const Vector sight = line_of_sight({Degrees{horizontal_deg}, Degrees{vertical_deg}});
  const RoomParameters& room = exam.setup().room;
  return optics::neutralising(eye, sight, optics::centre_of_rotation(eye, room.interpupillary),
                              exam.room().appearance[eye].target, find_lens(exam.room(), eye));
}

Examination dissociate(const ExaminationSetup& setup, const Opening& opening, Eye fixing) {
  Opening covered = opening;
  covered.covered = fellow(fixing);
  Examination exam(setup, kCalm, covered);
  wait(exam, kStandMs);
  return exam;
}

bool reaches_target(const Examination& exam, Eye eye) {
  if (exam.setup().patient.sensory.acuity_logmar[eye] > kPlainSizeLogmar) return false;
  if (!patient::is_hampered(exam.setup().patient, eye)) return true;
  const EyeObservation o = exam.observe().eye[eye];
  const Appearance& a = exam.room().appearance[eye];
  return elementary::hypotenuse(o.horizontal_deg - a.horizontal_deg,
                                o.vertical_deg - a.vertical_deg) < kReachedDeg;
}

Deviation calc_dissociated(const ExaminationSetup& setup, const Opening& opening, Eye fixing) {
  return calc_deviation(dissociate(setup, opening, fixing));
}

}  // namespace redress::truth
