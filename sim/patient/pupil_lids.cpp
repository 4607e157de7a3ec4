// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/patient/pupil_lids.hpp"

#include "sim/basics/elementary.hpp"

namespace redress::patient {

using elementary::clamp;

namespace {
constexpr double kTickS = 0.001;
constexpr std::size_t kDelayMs = 240;  // light reflex 220 to 280 ms (Ellis 1981, from memory)
constexpr double kConstrictS = 0.35;
constexpr double kDilateS = 1.5;
}  // namespace

double calc_pupil_goal(double age_years, double response_d, const PerEye<double>& light) {
  // Smaller by 0.02 mm a year (Watson & Yellott 2012, from memory).
  const double lit = 4.4 - 0.02 * (age_years - 25.0);
  const double near = 0.18 * (response_d - 0.25);
  const double sum = light.right + light.left;
  // 2: both eyes in a lit room; 1: one covered; 0: both; above 2: a penlight.
  const double dark = sum < 1.0 ? 0.45 + 1.6 * (1.0 - sum) : 0.45 * (2.0 - sum);
  return clamp(lit - near + dark, 1.8, 8.0);
}

double calc_spasm_pupil(const Accommodation& a, double goal_mm) {
  if (!(a.spasm_d > 0.0)) return goal_mm;
  // From none to all of the miosis at 3 D: judgement.
  constexpr double kWholeAtD = 3.0;
  constexpr double kSpasmMm = 2.5;
  const double share = clamp(a.spasm_d / kWholeAtD, 0.0, 1.0);
  return goal_mm > kSpasmMm ? goal_mm + share * (kSpasmMm - goal_mm) : goal_mm;
}

void step_pupils(const Parameters& p, const Accommodation& now, const Retinas& retinas, State& s) {
  PupilState& u = s.pupil;
  const double goal = calc_spasm_pupil(
      now, calc_pupil_goal(p.age_years, s.accommodation.response_d, retinas.light));
  if (p.pupils.in_force()) {
    const PerEye<double> goals = apply_faults(p.pupils, {goal, goal});
    u.goal_right.push(goals.right);
    u.goal_left.push(goals.left);
  } else {
    u.goal_right.push(goal);
    u.goal_left.push(goal);
  }
  const auto step_one = [&](double size, double delayed) {
    const double tau = delayed < size ? kConstrictS : kDilateS;
    return size + (delayed - size) * (kTickS / tau);
  };
  u.diameter_mm.right = step_one(u.diameter_mm.right, u.goal_right.back(kDelayMs));
  u.diameter_mm.left = step_one(u.diameter_mm.left, u.goal_left.back(kDelayMs));
}

PerEye<double> apply_faults(const PupilFaults& faults, PerEye<double> goal) {
  for (const Eye eye : kBothEyes) {
    goal[eye] = clamp(goal[eye] + side_of(eye) * (0.5 * faults.anisocoria_mm), 1.0, 9.0);
    if (faults.fixed_mm[eye]) goal[eye] = *faults.fixed_mm[eye];
  }
  return goal;
}

namespace {

// The lids follow the eye: wider in up gaze as far as 20 degrees or so (Mastropietro 2009), two
// thirds at 40 degrees down (Read et al. 2006: 6.4 of 9.7 mm).
double calc_resting_opening(double vertical_deg) {
  constexpr double kUp = 0.012;
  constexpr double kDown = 0.0085;
  return clamp(1.0 + (vertical_deg > 0.0 ? kUp : kDown) * vertical_deg, 0.5, 1.2);
}

}  // namespace

double calc_lid_opening(const State& s) {
  const double resting = calc_resting_opening(0.5 * (s.gaze.right.vertical + s.gaze.left.vertical));
  return resting * (1.0 - calc_blink_closure(s.instability));
}

void place_lids(const Lids& lids, State& s) {
  const double open = 1.0 - calc_blink_closure(s.instability);
  for (const Eye eye : kBothEyes) {
    const double resting = calc_resting_opening(s.gaze[eye].vertical);
    const double hanging = resting - lids.ptosis_mm[eye] / kRestingOpeningMm;
    s.lids.open_fraction[eye] = (hanging > 0.0 ? hanging : 0.0) * open;
  }
}

}  // namespace redress::patient
