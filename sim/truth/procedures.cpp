// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/truth/procedures.hpp"

#include <algorithm>

#include "sim/basics/elementary.hpp"
#include "sim/patient/step.hpp"
#include "sim/truth/solved.hpp"

namespace redress::truth {

using elementary::magnitude;

namespace {

constexpr double kBarSteps[] = {1, 2, 4, 6, 8, 10, 12, 14, 16, 18, 20, 25, 30, 35, 40, 45};
constexpr std::size_t kBarLength = sizeof(kBarSteps) / sizeof(kBarSteps[0]);
// A bar is moved every 2 to 3 s, and no sooner than this patient's vergence has followed.
Tick calc_step_ms(const ExaminationSetup& setup) {
  const double follow_s = 5.0 * setup.patient.fusion.recovery_s;
  return 1500 + static_cast<Tick>(1000.0 * (follow_s < 60.0 ? follow_s : 60.0));
}

bool holds(const Examination& exam) { return exam.patient_state().fusion.locked; }

Opening opening_at(double distance_m) {
  Opening opening;
  opening.target = plain_target(distance_m);
  return opening;
}

void hold(Examination& exam, Eye eye, double label, double base_deg) {
  act::HoldPrism prism;
  prism.eye = eye;
  prism.power = PrismDioptres{label};
  prism.base = Degrees{base_deg};
  exam.apply(prism);
}

void remove(Examination& exam, Eye eye) {
  act::RemovePrism gone;
  gone.eye = eye;
  exam.apply(gone);
}

bool is_clear(const Examination& exam) {
  const patient::Retinas retinas = calc_retinas(exam.setup().room, exam.room());
  return patient::calc_percept(exam.setup().patient, retinas, exam.patient_state()).clear;
}

// Base out before the left eye points to the patient's left, base in to the right.
constexpr double kLeftBaseOut = 0.0;
constexpr double kLeftBaseIn = 180.0;

ReserveReading read_reserve(const ExaminationSetup& setup, double distance_m, double base_deg) {
  Examination exam(setup, kCalm, opening_at(distance_m));
  const Tick step_ms = calc_step_ms(setup);
  ReserveReading reading;
  std::size_t step = 0;
  for (; step < kBarLength; ++step) {
    hold(exam, Eye::left, kBarSteps[step], base_deg);
    wait(exam, step_ms);
    if (!holds(exam)) {
      reading.break_pd = kBarSteps[step];
      break;
    }
    if (!reading.blur_pd && !is_clear(exam)) reading.blur_pd = kBarSteps[step];
  }
  if (!reading.break_pd) return reading;
  while (step > 0) {
    --step;
    hold(exam, Eye::left, kBarSteps[step], base_deg);
    wait(exam, step_ms);
    if (holds(exam)) {
      reading.recovery_pd = kBarSteps[step];
      return reading;
    }
  }
  remove(exam, Eye::left);
  wait(exam, step_ms);
  if (holds(exam)) reading.recovery_pd = 0.0;
  return reading;
}

}  // namespace

ReservesAt calc_reserves(const ExaminationSetup& setup, double distance_m) {
  ReservesAt found;
  found.distance_m = distance_m;
  const auto read = [&](double base_deg) {
    const auto holds_after = [&](double from_pd, double to_pd) {
      Examination exam(setup, kCalm, opening_at(distance_m));
      for (const double label : {from_pd, to_pd}) {
        if (label > 0.0) {
          hold(exam, Eye::left, label, base_deg);
        } else {
          remove(exam, Eye::left);
        }
        wait(exam, calc_step_ms(setup));
      }
      return holds(exam);
    };
    const auto solved = solve_reserve(setup, distance_m, base_deg, kBarSteps, holds_after);
    return solved ? *solved : read_reserve(setup, distance_m, base_deg);
  };
  found.base_out = read(kLeftBaseOut);
  found.base_in = read(kLeftBaseIn);
  return found;
}

ReservesAt run_reserves(const ExaminationSetup& setup, double distance_m) {
  return {distance_m, read_reserve(setup, distance_m, kLeftBaseOut),
          read_reserve(setup, distance_m, kLeftBaseIn)};
}

namespace {
constexpr double kFromM = 0.40;
constexpr double kToM = 0.03;
}  // namespace

NearPoint calc_near_point(const ExaminationSetup& setup) {
  // What went before the last 8 s of the approach is forgotten by then.
  constexpr double kBeforeM = 0.08;
  const auto limit_m = solve_near_limit_m(setup, kFromM, kToM);
  if (!limit_m) return run_near_point(setup, kFromM);
  if (*limit_m == 0.0) return {};
  return run_near_point(setup, std::min(kFromM, *limit_m + kBeforeM));
}

NearPoint run_near_point(const ExaminationSetup& setup, double from_m) {
  constexpr double kSpeedMPerMs = 0.01 / 1000.0;
  constexpr Tick kEveryMs = 10;
  Examination exam(setup, kCalm, opening_at(from_m));
  NearPoint found;
  if (!exam.observe().fused) return found;
  double distance_m = from_m;
  // At constant speed: a travelling target would speed up and slow down.
  const auto move = [&](double towards, bool until_locked) -> std::optional<double> {
    while (towards < 0 ? distance_m > kToM : distance_m < kFromM) {
      distance_m += towards * kSpeedMPerMs * static_cast<double>(kEveryMs);
      exam.apply(plain_target(distance_m));
      wait(exam, kEveryMs);
      if (exam.patient_state().fusion.locked == until_locked) return 100.0 * distance_m;
    }
    return std::nullopt;
  };
  found.break_cm = move(-1.0, false);
  if (!found.break_cm) return found;
  wait(exam, 1000);
  found.recovery_cm = move(+1.0, true);
  return found;
}

double calc_ac_a_gradient(const ExaminationSetup& setup) {
  const auto with_lens = [&](double power) {
    Opening opening = opening_at(0.40);
    opening.lenses_d = {power, power};
    return calc_apart(setup, opening, setup.patient.sensory.preferred).deviation.horizontal_pd;
  };
  return 0.5 * (with_lens(-1.0) - with_lens(1.0));
}

PerEye<Shortfall> calc_shortfall(const ExaminationSetup& setup) {
  constexpr double kSideDeg = 30.0;
  constexpr double kHeightDeg = 25.0;
  constexpr Tick kSettleMs = 1500;
  const auto short_of = [&](Eye eye, double horizontal, double vertical) {
    Opening opening;
    opening.target = plain_target(6.0, horizontal, vertical);
    opening.covered = fellow(eye);
    Examination exam(setup, kCalm, opening);
    wait(exam, kSettleMs);
    const EyeObservation seen = exam.observe().eye[eye];
    const double got =
        horizontal != 0.0 ? seen.horizontal_deg / horizontal : seen.vertical_deg / vertical;
    const double wanted = magnitude(horizontal) + magnitude(vertical);
    return std::max(0.0, wanted * (1.0 - got));
  };
  PerEye<Shortfall> found;
  for (const Eye eye : kBothEyes) {
    const double outward = side_of(eye) * kSideDeg;
    found[eye] = {short_of(eye, -outward, 0.0), short_of(eye, outward, 0.0),
                  short_of(eye, 0.0, kHeightDeg), short_of(eye, 0.0, -kHeightDeg)};
  }
  return found;
}

FourDioptreResponse calc_four_dioptre(const ExaminationSetup& setup, Eye eye) {
  Examination exam(setup, kCalm, opening_at(6.0));
  const Observation before = exam.observe();
  hold(exam, eye, 4.0, eye == Eye::right ? 180.0 : 0.0);
  const Eye other = fellow(eye);
  double version = 0.0;  // furthest that the fellow eye went
  for (Tick t = 0; t < 600; ++t) {
    exam.step();
    version = std::max(version, magnitude(exam.observe().eye[other].horizontal_deg -
                                          before.eye[other].horizontal_deg));
  }
  wait(exam, 2000);
  const Observation after = exam.observe();
  const double left_over =
      magnitude(after.eye[other].horizontal_deg - before.eye[other].horizontal_deg);
  constexpr double kSeenDeg = 0.7;  // 1.2 prism dioptres
  if (version < kSeenDeg) return FourDioptreResponse::no_movement;
  return left_over < 0.5 * version ? FourDioptreResponse::typical
                                   : FourDioptreResponse::version_without_return;
}

std::optional<double> calc_recovery_ms(const ExaminationSetup& setup, double distance_m) {
  return calc_recovery_ms(setup, opening_at(distance_m));
}

std::optional<double> calc_recovery_ms(const ExaminationSetup& setup, const Opening& opening) {
  Examination exam(setup, kCalm, opening);
  const double straight = calc_deviation(exam).horizontal_pd;
  const double level = calc_deviation(exam).vertical_pd;
  act::Cover cover;
  cover.eye = fellow(setup.patient.sensory.preferred);
  exam.apply(cover);
  wait(exam, 10000);
  exam.apply(act::Uncover{});
  std::optional<Tick> free_at;
  double height = 0.0;
  for (Tick t = 0; t < 10000; ++t) {
    exam.step();
    const bool covered = exam.room().covered[cover.eye];
    const Deviation now = calc_deviation(exam);
    const double left =
        std::max(magnitude(now.horizontal_pd - straight), magnitude(now.vertical_pd - level));
    if (!free_at && !covered) {
      free_at = exam.now();
      height = left;
    }
    if (free_at && exam.observe().fused && left <= 0.05 * height + 1e-6) {
      return static_cast<double>(exam.now() - *free_at);
    }
  }
  return std::nullopt;
}

}  // namespace redress::truth
