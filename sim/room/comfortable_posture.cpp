// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/room/comfortable_posture.hpp"

#include <algorithm>

#include "sim/basics/elementary.hpp"
#include "sim/patient/fusion.hpp"
#include "sim/patient/step.hpp"

namespace redress {

using elementary::magnitude;

namespace {

// Weights: judgement. A whole reserve in use is as bad as 1, eyes apart worse than any effort.
constexpr double kApart = 2.0;
constexpr double kApartPerDeg = 0.05;
// A bent neck: the further the worse, so much at 30 degrees.
constexpr double kPrice = 0.6;
constexpr double kPriceAtDeg = 30.0;
constexpr double kStepDeg = 5.0;
constexpr double kFurthestTurnDeg = 30.0;
constexpr double kFurthestTiltDeg = 30.0;
constexpr double kFurthestChinDeg = 20.0;
constexpr Tick kNystagmusMs = 1000;

// Share of a reserve that this demand takes.
double calc_share(double demand, double high, double low) {
  const double limit = demand > 0.0 ? high : -low;
  return limit > 0.0 ? magnitude(demand) / limit : 0.0;
}

double calc_strain(const Examination& exam) {
  const patient::State& s = exam.patient_state();
  const patient::AtThisDistance& h = s.here;
  if (s.fusion.locked) {
    return std::max(calc_share((s.fusion.fast_deg + s.fusion.slow_deg) / patient::kFusionGain,
                               h.break_high_deg, h.break_low_deg),
                    calc_share(s.fusion.vertical_deg / patient::kFusionGain,
                               h.vertical_break_high_deg, h.vertical_break_low_deg));
  }
  const patient::Percept p =
      patient::calc_percept(exam.setup().patient, calc_retinas(exam.setup().room, exam.room()), s);
  return kApart + kApartPerDeg * elementary::hypotenuse(p.separation_deg, p.vertical_deg);
}

// How much of the nystagmus is there, 0 ... about 1.
double calc_slip(Examination& exam) {
  const double whole = exam.setup().patient.unsteadiness.infantile_deg;
  if (whole <= 0.0) return 0.0;
  double least = exam.observe().eye.right.horizontal_deg;
  double most = least;
  for (Tick t = 0; t < kNystagmusMs; ++t) {
    exam.step();
    const double at = exam.observe().eye.right.horizontal_deg;
    least = std::min(least, at);
    most = std::max(most, at);
  }
  return (most - least) / whole;
}

double calc_discomfort(const ExaminationSetup& setup, const HeadState& head) {
  constexpr double kLargeLogmar = 1.6;
  Opening opening;
  opening.target.size_logmar = kLargeLogmar;
  opening.head = head;
  Examination exam(setup, {1, 0.0, false}, opening);
  const double strain = calc_strain(exam);
  const auto bent = [](Degrees angle) {
    const double share = angle.value / kPriceAtDeg;
    return share * share;
  };
  return strain + calc_slip(exam) + kPrice * (bent(head.roll) + bent(head.turn) + bent(head.chin));
}

// Tries one of the three angles; true if another is better.
bool try_angle(const ExaminationSetup& setup, Degrees HeadState::*angle, double furthest_deg,
               HeadState& best, double& least) {
  constexpr double kBetter = 1e-6;
  const HeadState from = best;
  bool found = false;
  for (double size = 0.0; size <= furthest_deg; size += kStepDeg) {
    HeadState one = from;
    HeadState other = from;
    (one.*angle).value = size;
    (other.*angle).value = -size;
    const double of_one = calc_discomfort(setup, one);
    const double of_other = size > 0.0 ? calc_discomfort(setup, other) : of_one;
    // A patient to whom both sides are alike favours neither: its mirror image would do the same.
    if (size > 0.0 && magnitude(of_one - of_other) < kBetter) continue;
    const bool first = of_one <= of_other;
    if ((first ? of_one : of_other) >= least - kBetter) continue;
    least = first ? of_one : of_other;
    best = first ? one : other;
    found = true;
  }
  return found;
}

}  // namespace

HeadState find_comfortable_posture(const ExaminationSetup& setup) {
  HeadState best;
  double least = calc_discomfort(setup, best);
  for (int round = 0; round < 2; ++round) {
    const bool turned = try_angle(setup, &HeadState::turn, kFurthestTurnDeg, best, least);
    const bool tilted = try_angle(setup, &HeadState::roll, kFurthestTiltDeg, best, least);
    const bool raised = try_angle(setup, &HeadState::chin, kFurthestChinDeg, best, least);
    if (!turned && !tilted && !raised) break;
  }
  return best;
}

}  // namespace redress
