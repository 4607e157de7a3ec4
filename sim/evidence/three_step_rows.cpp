// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Parks's three steps as they come out: each cyclovertical muscle of each eye at strengths 0, 0.3
// and 0.6, gaze 15 and 25 degrees to the sides, head tilt 30 degrees, either eye fixing. The figure
// is the thinnest margin of all steps, prism dioptres; below 0 a step points the wrong way.
#include "sim/evidence/rows.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "sim/cases/setup.hpp"
#include "sim/evidence/gazes.hpp"
#include "sim/truth/criteria.hpp"

namespace redress::evidence {

namespace {

struct Pattern {
  Eye higher, gaze, tilt;
};

// The three steps that name this muscle: found by asking the rule for all eight.
Pattern pattern_of(Eye eye, const std::string& muscle) {
  for (const Eye higher : kBothEyes) {
    for (const Eye gaze : kBothEyes) {
      for (const Eye tilt : kBothEyes) {
        const truth::WeakMuscle weak = truth::find_weak_muscle(higher, gaze, tilt);
        if (weak.eye == eye && weak.name == muscle) return {higher, gaze, tilt};
      }
    }
  }
  throw DidNotHappen{"no three steps name this muscle"};
}

double thinnest_margin(Eye eye, const std::string& muscle) {
  constexpr double kTiltDeg = 30.0;
  const Pattern p = pattern_of(eye, muscle);
  const double up = side_of(p.higher);  // a positive number: that eye is higher
  const double gaze = side_of(p.gaze);  // the side on which it is worse
  const double tilt = side_of(p.tilt);
  double thinnest = 1000.0;
  for (const double strength : {0.0, 0.3, 0.6}) {
    const ExaminationSetup setup =
        setup_with(weak(name_of(eye), muscle, strength) + ", " + deviation_of(0, 0) +
                   R"(, "fusion": {"present": false}, "sensory": {"preferred_eye": "left"})");
    for (const Eye fixing : kBothEyes) {
      const auto height = [&](double horizontal, double roll) {
        Opening opening;
        opening.target = truth::plain_target(6.0, horizontal, 0.0);
        opening.head.roll = Degrees{roll};
        return up * truth::calc_dissociated(setup, opening, fixing).vertical_pd;
      };
      thinnest = std::min(thinnest, height(0, 0));
      for (const double side : {15.0, 25.0}) {
        thinnest = std::min(thinnest, height(gaze * side, 0) - height(-gaze * side, 0));
      }
      thinnest = std::min(thinnest, height(0, tilt * kTiltDeg) - height(0, -tilt * kTiltDeg));
    }
  }
  return thinnest;
}

}  // namespace

void add_three_step_rows(std::vector<Row>& rows) {
  Group g(rows, "Parks's three steps as they come out");
  for (const Eye eye : kBothEyes) {
    for (const char* muscle :
         {"superior_oblique", "inferior_oblique", "superior_rectus", "inferior_rectus"}) {
      const bool was_read = std::string{muscle} == "superior_oblique";
      g.add(
          fmt::format("P3.{}.{}", name_of(eye), muscle),
          fmt::format("{} {}: thinnest margin of three steps, either eye fixing (fitted)",
                      name_of(eye), muscle),
          at_least(1.0), "Δ", "Parks 1958; margin of 1 asked for",
          [eye, muscle](Bench&) { return figure(thinnest_margin(eye, muscle)); },
          was_read ? Standing::read : Standing::from_memory);
    }
  }
}

}  // namespace redress::evidence
