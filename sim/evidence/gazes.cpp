// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/evidence/gazes.hpp"

#include <fmt/format.h>

namespace redress::evidence {

namespace {

std::string unfused(const std::string& members) {
  const std::string whole =
      deviation_of(0, 0) +
      R"(, "fusion": {"present": false}, "sensory": {"preferred_eye": "left"})";
  return members.empty() ? whole : whole + ", " + members;
}

Opening opening_at(const Place& place) {
  Opening opening;
  opening.target = truth::plain_target(place.distance_m, place.horizontal_deg, place.vertical_deg);
  opening.head.roll = Degrees{place.roll_deg};
  return opening;
}

double reach(const Observation& o, Eye eye, bool along_vertical) {
  return along_vertical ? o.eye[eye].vertical_deg : o.eye[eye].horizontal_deg;
}

}  // namespace

std::string weak(const std::string& eye, const std::string& muscle, double strength) {
  return fmt::format(R"("muscles": {{"{}": {{"{}": {{"strength": {}}}}}}})", eye, muscle, strength);
}

truth::Deviation deviation_at(const std::string& members, const Place& place, Eye fixing) {
  return truth::calc_dissociated(setup_with(unfused(members)), opening_at(place), fixing);
}

Gazes nine_gazes(const std::string& members, Eye fixing) {
  constexpr double kGazeDeg = 25.0;
  constexpr const char* kNames[] = {"up left",        "up",    "up right",  "left",
                                    "straight ahead", "right", "down left", "down",
                                    "down right"};
  const ExaminationSetup setup = setup_with(unfused(members));
  Gazes gazes;
  std::size_t i = 0;
  for (const double vertical : {kGazeDeg, 0.0, -kGazeDeg}) {
    for (const double horizontal : {-kGazeDeg, 0.0, kGazeDeg}) {
      const Place place{horizontal, vertical, 0.0, 6.0};
      gazes[i] = {kNames[i], place, truth::calc_dissociated(setup, opening_at(place), fixing)};
      ++i;
    }
  }
  return gazes;
}

double duction(const std::string& members, Eye eye, double horizontal_deg, double vertical_deg) {
  const Examination exam = truth::dissociate(
      setup_with(unfused(members)), opening_at({horizontal_deg, vertical_deg, 0.0, 6.0}), eye);
  return reach(exam.observe(), eye, vertical_deg != 0.0);
}

double version(const std::string& members, Eye eye, double horizontal_deg, double vertical_deg) {
  const Examination exam =
      truth::dissociate(setup_with(unfused(members)),
                        opening_at({horizontal_deg, vertical_deg, 0.0, 6.0}), fellow(eye));
  return reach(exam.observe(), eye, vertical_deg != 0.0);
}

double healthy_torsion(const Place& place) {
  const Examination exam =
      truth::dissociate(setup_with(unfused("")), opening_at(place), Eye::right);
  return exam.observe().eye.right.torsion_deg;
}

}  // namespace redress::evidence
