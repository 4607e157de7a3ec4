// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// What six muscles under Hering's law make of one weak or stopped muscle, against clinical values.
// The muscles' constants were fitted to the rows marked (fitted), so that meeting them is no
// validation; rows of an independent source say so. What does not emerge stands at the end, as it
// comes out: it is not tuned away.
//
// Right eye's muscle, left eye fixing unless said; gaze 25 degrees, tilt 30; eso +, right eye
// higher +, excyclo +; prism dioptres.
#include <algorithm>
#include <array>
#include <cmath>

#include <catch2/catch.hpp>

#include "tests/support/two_eyes.hpp"

using namespace redress;
using namespace redress::patient;
using namespace redress::tests;

namespace {

constexpr double kGaze = 25.0;
constexpr double kTilt = 30.0;

TwoEyes weak_left(Muscle muscle, double strength) {
  TwoEyes eyes;
  eyes.muscles.left.muscle[muscle].strength = strength;
  return eyes;
}

PlantDeviation ahead(const TwoEyes& eyes, double tilt = 0.0) {
  return eyes.deviation(Eye::left, 0, 0, tilt);
}
PlantDeviation at(const TwoEyes& eyes, double horizontal, double vertical) {
  return eyes.deviation(Eye::left, horizontal, vertical);
}

// Eso down less eso up, 25 degrees each: a V pattern is positive.
double calc_v_pattern(const TwoEyes& eyes) {
  return at(eyes, 0, -kGaze).horizontal_pd - at(eyes, 0, kGaze).horizontal_pd;
}

TwoEyes bilateral(Muscle muscle, double strength) {
  TwoEyes eyes = weak_right(muscle, strength);
  eyes.muscles.left = eyes.muscles.right;
  return eyes;
}

}  // namespace

TEST_CASE("Parks: the three steps name the weak vertical muscle, all eight rows", "[muscles]") {
  // Parks 1958: which eye is higher, in which side gaze it is worse, on which tilt it is worse.
  struct Row {
    Eye eye;
    Muscle muscle;
    bool right_higher, worse_right, worse_tilt_right;
  };
  constexpr std::array<Row, 8> rows{{{Eye::right, kSuperiorOblique, true, false, true},
                                     {Eye::left, kInferiorOblique, true, true, true},
                                     {Eye::right, kInferiorRectus, true, true, false},
                                     {Eye::left, kSuperiorRectus, true, false, false},
                                     {Eye::left, kSuperiorOblique, false, true, false},
                                     {Eye::right, kInferiorOblique, false, false, false},
                                     {Eye::left, kInferiorRectus, false, false, true},
                                     {Eye::right, kSuperiorRectus, false, true, true}}};
  double thinnest = 1e9;
  for (const Row& row : rows) {
    for (const double strength : {0.0, 0.3, 0.6}) {
      for (const Eye fixing : kBothEyes) {
        const TwoEyes eyes = row.eye == Eye::right ? weak_right(row.muscle, strength)
                                                   : weak_left(row.muscle, strength);
        for (const double gaze : {15.0, 25.0}) {
          INFO(name_of(row.eye) << " muscle " << row.muscle << " at " << strength << ", "
                                << name_of(fixing) << " fixing, gaze " << gaze);
          const auto at = [&](double h, double tilt) {
            const auto d = eyes.deviation(fixing, h, 0, tilt);
            REQUIRE(d.reached);
            return row.right_higher ? d.vertical_pd : -d.vertical_pd;
          };
          const double step_1 = at(0, 0);
          const double step_2 =
              row.worse_right ? at(gaze, 0) - at(-gaze, 0) : at(-gaze, 0) - at(gaze, 0);
          const double step_3 =
              row.worse_tilt_right ? at(0, kTilt) - at(0, -kTilt) : at(0, -kTilt) - at(0, kTilt);
          CHECK(step_1 >= 1.0);
          CHECK(step_2 >= 1.0);
          CHECK(step_3 >= 1.0);
          thinnest = std::min({thinnest, step_1, step_2, step_3});
        }
      }
    }
  }
  CHECK(thinnest > 1.0);
}

TEST_CASE("a superior oblique without force (fitted)", "[muscles]") {
  const TwoEyes eyes = weak_right(kSuperiorOblique, 0.0);
  // Straight ahead 5 to 15 (from memory); worst down and in (textbook).
  CHECK(ahead(eyes).vertical_pd == Approx(10.0).margin(5.0));
  CHECK(at(eyes, -kGaze, 0).vertical_pd > ahead(eyes).vertical_pd);
  CHECK(at(eyes, kGaze, 0).vertical_pd < ahead(eyes).vertical_pd);
  CHECK(at(eyes, -kGaze, -kGaze).vertical_pd > at(eyes, -kGaze, 0).vertical_pd);
  CHECK(at(eyes, -kGaze, -kGaze).vertical_pd > at(eyes, 0, -kGaze).vertical_pd);
  // Excyclotorsion of one side up to 6 degrees (series of 1993: unilateral from normal at 6).
  CHECK(ahead(eyes).cyclo_deg == Approx(5.0).margin(2.0));
  // Tilt: what a student can read, 6 or more, typically 8 to 15 (from memory; monkeys 3.5 to 10).
  CHECK(ahead(eyes, kTilt).vertical_pd - ahead(eyes, -kTilt).vertical_pd >= 6.0);
  CHECK(calc_v_pattern(eyes) < 15.0);  // from memory: more is bilateral
}

TEST_CASE("both superior obliques without force (fitted)", "[muscles]") {
  // Reverses between side gazes and between tilts; V above 15; excyclotorsion above 10 degrees
  // (teaching page: 10 to 15 and more when bilateral).
  const TwoEyes eyes = bilateral(kSuperiorOblique, 0.0);
  CHECK(at(eyes, -kGaze, 0).vertical_pd > 5.0);
  CHECK(at(eyes, kGaze, 0).vertical_pd < -5.0);
  CHECK(ahead(eyes, kTilt).vertical_pd > 5.0);
  CHECK(ahead(eyes, -kTilt).vertical_pd < -5.0);
  CHECK(calc_v_pattern(eyes) > 15.0);
  CHECK(ahead(eyes).cyclo_deg > 10.0);
}

TEST_CASE("an acute superior oblique palsy in two monkeys (outside the fit)", "[muscles]") {
  // Shan et al. 2007 (abstract): over 20 degrees up and down, left and right, 10 to 12 degrees of
  // vertical in adduction and down, 10 to 12 of torsion in abduction and down; 2 to 6 over the
  // tilt.
  const TwoEyes eyes = weak_right(kSuperiorOblique, 0.0);
  const auto in_degrees = [](double pd) { return std::atan(pd / 100.0) * 57.29577951308232; };
  CHECK(in_degrees(at(eyes, -20, -20).vertical_pd) == Approx(11.0).margin(1.2));
  CHECK(at(eyes, 20, -20).cyclo_deg == Approx(11.0).margin(1.2));
  const double change =
      in_degrees(ahead(eyes, kTilt).vertical_pd) - in_degrees(ahead(eyes, -kTilt).vertical_pd);
  CHECK(change > 2.0);
  CHECK(change < 6.0);
}

TEST_CASE("a lateral rectus without force (fitted)", "[muscles]") {
  const TwoEyes eyes = weak_right(kLateralRectus, 0.0);
  const double primary = ahead(eyes).horizontal_pd;
  // 20 to 40 straight ahead, at most 40 % of it in the gaze away, abduction to about the midline
  // (from memory); the fixing eye cannot be the weak one.
  CHECK(primary == Approx(30.0).margin(10.0));
  CHECK(at(eyes, -kGaze, 0).horizontal_pd <= 0.4 * primary);
  CHECK(at(eyes, kGaze, 0).horizontal_pd > primary);
  CHECK(eyes.look(Eye::right, 50.0, 0, 0).horizontal == Approx(0.0).margin(5.0));
  CHECK_FALSE(eyes.deviation(Eye::right, 0, 0).reached);
}

TEST_CASE("a lateral rectus of half force (fitted)", "[muscles]") {
  const TwoEyes eyes = weak_right(kLateralRectus, 0.5);
  const double primary = ahead(eyes).horizontal_pd;
  CHECK(primary == Approx(14.0).margin(4.0));
  // Hering: the secondary deviation is larger.
  CHECK(eyes.deviation(Eye::right, 0, 0).horizontal_pd > primary + 3.0);
  // Duction exceeds version by 5 degrees or more: the eye alone has its command raised.
  const double version = eyes.look(Eye::right, kGaze, 0, 0).horizontal;
  const double duction = eyes.look(Eye::right, 50.0, 0, 0).horizontal;
  CHECK(duction > version + 5.0);
}

TEST_CASE("a third nerve's muscles without force, the inferior rectus weak", "[muscles]") {
  TwoEyes eyes;
  for (const Muscle m : {kMedialRectus, kSuperiorRectus, kInferiorOblique}) {
    eyes.muscles.right.muscle[m].strength = 0.0;
  }
  eyes.muscles.right.muscle[kInferiorRectus].strength = 0.3;
  CHECK(ahead(eyes).horizontal_pd == Approx(-30.0).margin(10.0));  // exo 20 to 40 (from memory)
  CHECK(ahead(eyes).vertical_pd == Approx(-10.0).margin(5.0));     // hypo 5 to 15
}

TEST_CASE("a taut superior oblique: up and in is what it cannot", "[muscles]") {
  TwoEyes eyes;
  eyes.muscles.right.muscle[kSuperiorOblique].limit_deg = 6.0;
  CHECK(ahead(eyes).vertical_pd == Approx(0.0).margin(0.5));
  CHECK(at(eyes, -kGaze, kGaze).vertical_pd < -15.0);
  CHECK(at(eyes, kGaze, kGaze).vertical_pd > -2.0);
  CHECK(std::abs(at(eyes, 0, -kGaze).vertical_pd) < 0.5);
}

TEST_CASE("co-innervation with a tight lateral rectus pulls the eye back on adduction",
          "[muscles]") {
  TwoEyes eyes;
  EyeMuscles& right = eyes.muscles.right;
  right.muscle[kLateralRectus] = {.strength = 0.3, .shorter_deg = 20, .stiffness = 2};
  right.muscle[kMedialRectus].limit_deg = 5;
  right.share_of_medial = 0.1;
  CHECK(ahead(eyes).horizontal_pd == Approx(5.0).margin(5.0));  // small for the limitation
  CHECK(eyes.look(Eye::right, 50, 0, 0).horizontal < 15.0);
  const auto pull = [&](double abduction) {
    return eyes.plant.calc_departure(right, {abduction, 0, 0})->pull;
  };
  CHECK(pull(-kGaze) > 0.15);
  CHECK(pull(kGaze) < -0.2);
}

TEST_CASE("a stopped inferior rectus restricts its own eye's elevation", "[muscles]") {
  TwoEyes eyes;
  eyes.muscles.right.muscle[kInferiorRectus] = {.limit_deg = -14, .limit_stiffness = 12};
  CHECK(ahead(eyes).vertical_pd == Approx(-15.0).margin(3.0));
  CHECK(at(eyes, 0, kGaze).vertical_pd < 2.0 * ahead(eyes).vertical_pd);
  CHECK(std::abs(at(eyes, 0, -kGaze).vertical_pd) < 1.5);
}

TEST_CASE("a medial rectus of little version gain", "[muscles]") {
  TwoEyes eyes;
  eyes.muscles.right.version_gain = 0.4;
  CHECK(ahead(eyes).horizontal_pd == Approx(0.0).margin(0.01));
  CHECK(at(eyes, kGaze, 0).horizontal_pd == Approx(0.0).margin(0.01));
  CHECK(at(eyes, -kGaze, 0).horizontal_pd < -12.0);
  // Vergence is spared: the same adduction as vergence is reached.
  const auto by_vergence = eyes.plant.calc_departure(eyes.muscles.right, {-10.0, 0.0, 0.0}, -10.0);
  REQUIRE(by_vergence);
  CHECK(by_vergence->turn.horizontal == Approx(0.0).margin(1e-6));
}

TEST_CASE("a paresis of long standing is more alike in both tilts (Simonsz 1985)", "[muscles]") {
  TwoEyes eyes = weak_right(kSuperiorOblique, 0.0);
  const auto difference = [&] {
    return ahead(eyes, kTilt).vertical_pd - ahead(eyes, -kTilt).vertical_pd;
  };
  const double fresh = difference();
  const double primary = ahead(eyes).vertical_pd;
  eyes.tilt_gain = 1.8;
  CHECK(difference() > 1.5 * fresh);
  CHECK(ahead(eyes).vertical_pd == primary);
}

TEST_CASE("known misses: what these muscles do not do, as it comes out", "[muscles]") {
  // Each line is a clinical value that the model does not reach, beside the value it gives. When
  // one of these fails the model has changed: look whether the miss is mended.
  const TwoEyes lateral = weak_right(kLateralRectus, 0.0);
  // Vertical 0.3 +- 0.8 in lateral rectus palsies (20 patients, 2002): right straight ahead, not
  // above and below.
  CHECK(at(lateral, 0, kGaze).vertical_pd == Approx(-7.1).margin(0.1));
  CHECK(at(lateral, 0, -kGaze).vertical_pd == Approx(5.2).margin(0.1));
  // Their head tilt has the opposite sign to that series.
  CHECK(ahead(lateral, kTilt).vertical_pd < ahead(lateral, -kTilt).vertical_pd);

  // Superior and inferior rectus: 1.7 to 2.0 times as large in their side gaze (from memory).
  const auto side_share = [](Muscle m) {
    const TwoEyes eyes = weak_right(m, 0.3);
    return at(eyes, kGaze, 0).vertical_pd / ahead(eyes).vertical_pd;
  };
  CHECK(side_share(kSuperiorRectus) == Approx(1.09).margin(0.02));
  CHECK(side_share(kInferiorRectus) == Approx(1.27).margin(0.02));
  // Superior, inferior rectus, inferior oblique: 6 to 15; without any force the recti give more.
  CHECK(ahead(weak_right(kSuperiorRectus, 0.0)).vertical_pd == Approx(-15.3).margin(0.1));
  CHECK(ahead(weak_right(kInferiorRectus, 0.0)).vertical_pd == Approx(17.4).margin(0.1));

  // Excyclotorsion does not change with tilt (-0.25 +- 0.6 degrees, 2009); here it does.
  const TwoEyes oblique = weak_right(kSuperiorOblique, 0.0);
  CHECK(ahead(oblique).cyclo_deg - ahead(oblique, -kTilt).cyclo_deg == Approx(2.6).margin(0.2));
  // The secondary deviation of a superior oblique is hardly larger than the primary.
  CHECK(oblique.deviation(Eye::right, 0, 0).vertical_pd / ahead(oblique).vertical_pd ==
        Approx(1.07).margin(0.02));

  // Co-innervation alone: straight ahead 0 to 10 eso in patients.
  TwoEyes shared;
  shared.muscles.right.muscle[kLateralRectus].strength = 0.0;
  shared.muscles.right.share_of_medial = 0.5;
  CHECK(ahead(shared).horizontal_pd == Approx(15.0).margin(0.5));

  // A taut superior oblique: a V pattern of 16 in patients, none here.
  TwoEyes taut;
  taut.muscles.right.muscle[kSuperiorOblique].limit_deg = 6.0;
  CHECK(std::abs(calc_v_pattern(taut)) < 1.0);

  // A third nerve with no force at all in the inferior rectus either: hypo 5 to 15.
  TwoEyes third;
  for (const Muscle m : {kMedialRectus, kSuperiorRectus, kInferiorRectus, kInferiorOblique}) {
    third.muscles.right.muscle[m].strength = 0.0;
  }
  CHECK(ahead(third).vertical_pd == Approx(-4.8).margin(0.1));
}
