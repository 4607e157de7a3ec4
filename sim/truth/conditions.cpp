// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Deviation, neutralising prism and what is manifest, at one distance and correction.
#include <algorithm>

#include "sim/basics/elementary.hpp"
#include "sim/truth/conditions.hpp"
#include "sim/truth/dissociated.hpp"
#include "sim/truth/reading.hpp"
#include "sim/truth/solved.hpp"

namespace redress::truth {

namespace {

constexpr Tick kPhaseMs = 10000;  // open, each eye covered in turn, open
constexpr std::int32_t kTravelMs = 250;

bool fused_during(Examination& exam, Tick ms) {
  bool fused = true;
  for (Tick t = 0; t < ms; ++t) {
    exam.step();
    fused = fused && exam.observe().fused;
  }
  return fused;
}

act::Cover cover(Eye eye) { return {.eye = eye, .travel_ms = kTravelMs}; }
act::Uncover uncover() { return {.travel_ms = kTravelMs}; }

// A minute of alternating cover, ending with this eye fixing, by a patient whose slow vergence
// acts.
Examination alternate(const ExaminationSetup& setup, const Opening& opening, Eye fixing) {
  constexpr int kCovers = 30;
  constexpr Tick kEachMs = 2000;
  const Chance calm{1, 0.0, true};
  Examination exam(setup, calm, opening);
  for (int i = 0; i < kCovers; ++i) {
    exam.apply(cover(i % 2 == 0 ? fixing : fellow(fixing)));
    wait(exam, kEachMs);
  }
  return exam;
}

// Whether the eye that was left fixing keeps fixation once its fellow sees again.
bool holds_fixation(const ExaminationSetup& setup, const Opening& opening, Eye eye) {
  Examination exam(setup, kCalm, opening);
  exam.apply(cover(fellow(eye)));
  wait(exam, 3000);
  if (!reaches_target(exam, eye)) return false;
  exam.apply(uncover());
  wait(exam, 2500);
  const Observation o = exam.observe();
  return !o.fused && o.fixing == (eye == Eye::right ? WhichEyes::right : WhichEyes::left);
}

DeviatingEye find_deviating_eye(const ExaminationSetup& setup, const Opening& opening) {
  const bool right = holds_fixation(setup, opening, Eye::right);
  const bool left = holds_fixation(setup, opening, Eye::left);
  if (right && left) return DeviatingEye::alternating;
  return right ? DeviatingEye::left : DeviatingEye::right;
}

// Eyes that motor fusion holds together at an angle are manifest all the same. Fixation disparity
// is 3 % of the phoria and stays below this for any phoria that can be held.
constexpr double kLeastAnglePd = 2.0;

// The eye that does not point at the target.
DeviatingEye find_eye_off_target(const Examination& exam) {
  const Observation o = exam.observe();
  PerEye<double> error;
  for (const Eye eye : kBothEyes) {
    const Appearance& a = exam.room().appearance[eye];
    error[eye] = elementary::hypotenuse(o.eye[eye].horizontal_deg - a.horizontal_deg,
                                        o.eye[eye].vertical_deg - a.vertical_deg);
  }
  return error.right > error.left ? DeviatingEye::right : DeviatingEye::left;
}

}  // namespace

ManifestFinding calc_manifest(const ExaminationSetup& setup, const Opening& opening) {
  if (setup.patient.accommodation.spasm_d > 0.0) {
    // It comes and goes within a minute, which the calm patient does not show: what is held without
    // it is out of line only now and then.
    ManifestFinding found = run_manifest(setup, opening);
    const bool held = calc_manifest(without_spasm(setup), opening).manifest == Manifest::none;
    if (held && found.manifest == Manifest::constant) found.manifest = Manifest::intermittent;
    return found;
  }
  auto solved = solve_manifest(setup, opening);
  if (!solved) return run_manifest(setup, opening);
  if (solved->manifest != Manifest::none) {
    solved->deviating_eye = find_deviating_eye(setup, opening);
  }
  return *solved;
}

ExaminationSetup without_spasm(ExaminationSetup setup) {
  setup.patient.accommodation.spasm_d = 0.0;
  return setup;
}

ManifestFinding run_manifest(const ExaminationSetup& setup, const Opening& opening) {
  Examination exam(setup, kCalm, opening);
  ManifestFinding found;
  wait(exam, kPhaseMs - 1000);
  const bool fused_before = fused_during(exam, 1000);
  const Deviation before = calc_deviation(exam);
  const Deviation missed = calc_misalignment(exam);

  exam.apply(cover(Eye::right));
  wait(exam, kPhaseMs);
  exam.apply(cover(Eye::left));  // a transfer: the cover crosses to the other eye
  wait(exam, kPhaseMs);
  exam.apply(uncover());
  wait(exam, kPhaseMs - 1000);
  const bool fused_after = fused_during(exam, 1000);
  const Deviation after = calc_deviation(exam);

  const bool at_an_angle =
      fused_before && std::max(elementary::magnitude(missed.horizontal_pd),
                               elementary::magnitude(missed.vertical_pd)) >= kLeastAnglePd;
  const DeviatingEye off_target = find_eye_off_target(exam);
  if (!fused_before || at_an_angle) {
    found.manifest = Manifest::constant;
    found.deviation = before;
  } else if (!fused_after) {
    found.manifest = Manifest::intermittent;
    found.deviation = after;
  } else {
    return found;
  }
  found.deviating_eye = at_an_angle ? off_target : find_deviating_eye(setup, opening);
  return found;
}

Condition calc_dissociated_condition(const ExaminationSetup& setup, const Opening& opening,
                                     Eye fixing) {
  Condition c;
  c.distance_m = opening.target.distance_m;
  c.fixing = fixing;
  c.target_vertical_deg = opening.target.vertical_deg;
  const auto take = [&](const Apart& apart) {
    c.spectacles = apart.spectacles;
    c.lens = apart.lens;
    c.cannot_fixate = !apart.reaches;
    if (!apart.label) return;
    c.neutralising_horizontal_pd = apart.label->horizontal.value;
    c.neutralising_vertical_pd = apart.label->vertical.value;
  };
  const Apart apart = calc_apart(setup, opening, fixing);
  const Deviation& deviation = apart.deviation;
  c.horizontal_pd = deviation.horizontal_pd;
  c.vertical_pd = deviation.vertical_pd;
  c.torsion_deg = deviation.torsion_deg;
  c.alternating_horizontal_pd = deviation.horizontal_pd;
  take(apart);
  if (setup.patient.control.tenacious > 0.0) {
    // A prism and alternating cover measures what a minute shows, and is marked against that.
    const Examination exam = alternate(setup, opening, fixing);
    c.alternating_horizontal_pd = calc_deviation(exam).horizontal_pd;
    Apart shown = apart;
    shown.reaches = reaches_target(exam, fixing);
    shown.label = std::nullopt;
    if (shown.reaches) shown.label = calc_neutralising(exam, fellow(fixing));
    c.neutralising_horizontal_pd.reset();
    c.neutralising_vertical_pd.reset();
    take(shown);
  }
  return c;
}

Condition calc_condition(const ExaminationSetup& setup, double distance_m, bool spectacles,
                         Eye fixing, bool own_posture) {
  Opening opening;
  opening.target = plain_target(distance_m);
  opening.spectacles = spectacles;
  opening.own_posture = own_posture;
  return calc_condition(setup, opening, fixing);
}

Condition calc_condition(const ExaminationSetup& setup, const Opening& opening, Eye fixing) {
  Condition c = calc_dissociated_condition(setup, opening, fixing);
  apply_manifest(calc_manifest(setup, opening), c);
  return c;
}

void apply_manifest(const ManifestFinding& found, Condition& c) {
  c.manifest = found.manifest;
  c.deviating_eye = found.deviating_eye;
  if (found.manifest == Manifest::none) return;
  c.manifest_horizontal_pd = found.deviation.horizontal_pd;
  c.manifest_vertical_pd = found.deviation.vertical_pd;
}

}  // namespace redress::truth
