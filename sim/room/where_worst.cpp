// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/room/where_worst.hpp"

#include "sim/basics/elementary.hpp"
#include "sim/patient/step.hpp"

namespace redress {

namespace {

constexpr double kGazeDeg = 25.0;
constexpr double kFarM = 6.0;
constexpr double kNearM = 0.40;
constexpr double kNoticedDeg = 2.0;  // 3.5 prism dioptres: judgement

// Distance between the two images, degrees; 0 where there is one.
double calc_apart(const ExaminationSetup& setup, bool spectacles, double distance_m,
                  double horizontal, double vertical) {
  Opening opening;
  opening.target.distance_m = distance_m;
  opening.target.horizontal_deg = horizontal;
  opening.target.vertical_deg = vertical;
  opening.target.size_logmar = 1.0;
  opening.spectacles = spectacles;
  const Examination exam(setup, {1, 0.0, false}, opening);
  const patient::Percept percept = patient::calc_percept(
      setup.patient, calc_retinas(setup.room, exam.room()), exam.patient_state());
  return percept.is_double ? elementary::hypotenuse(percept.separation_deg, percept.vertical_deg)
                           : 0.0;
}

}  // namespace

Worst find_worst(const ExaminationSetup& setup, bool spectacles) {
  const auto apart = [&](double distance_m, double horizontal, double vertical) {
    return calc_apart(setup, spectacles, distance_m, horizontal, vertical);
  };
  const double ahead = apart(kFarM, 0.0, 0.0);
  const double near = apart(kNearM, 0.0, 0.0);
  struct Place {
    Worst where;
    double apart;
  };
  const Place places[] = {{Worst::left, apart(kFarM, -kGazeDeg, 0.0)},
                          {Worst::right, apart(kFarM, kGazeDeg, 0.0)},
                          {Worst::up, apart(kFarM, 0.0, kGazeDeg)},
                          {Worst::down, apart(kFarM, 0.0, -kGazeDeg)},
                          {Worst::near, near}};
  const Place* most = &places[0];
  for (const Place& p : places) {
    if (p.apart > most->apart) most = &p;
  }
  if (most->apart <= 0.0 && ahead <= 0.0) return Worst::nowhere;
  if (most->apart > ahead + kNoticedDeg) return most->where;
  return ahead > near + kNoticedDeg ? Worst::far : Worst::same;
}

}  // namespace redress
