// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Weak, stopped and tiring muscles through the whole engine: what an examiner would see.
#include <algorithm>
#include <string>

#include "sim/basics/state_hash.hpp"
#include "sim/truth/dissociated.hpp"
#include "sim/truth/truth.hpp"
#include "tests/support/story.hpp"
#include "tests/support/two_eyes.hpp"

using namespace redress;
using namespace redress::tests;

namespace {

constexpr Chance kLiving{5, 1.0, true};

Case straight(const std::string& muscles) {
  return case_with(R"("deviation": {"distance_pd": 0, "near_pd": 0}, "muscles": {)" + muscles +
                   R"(}, "sensory": {"preferred_eye": "left"})");
}

std::string weak(const std::string& muscle, double strength) {
  return R"("right": {")" + muscle + R"(": {"strength": )" + std::to_string(strength) + "}}";
}

std::uint64_t hash_after(const Case& the_case, int ticks) {
  Examination exam(setup_of(the_case), kLiving);
  for (int t = 0; t < ticks; ++t) {
    if (t == 1000) exam.apply(cover(0, Eye::right).content);
    if (t == 3000) {
      act::TiltHead tilt;
      tilt.roll_deg = 30.0;
      exam.apply(tilt);
    }
    exam.step();
  }
  return exam.hash();
}

truth::Position position(const ExaminationSetup& setup, double h, double v, Eye fixing) {
  const truth::Truth found = truth::calc_truth(setup, {}, {true, false, false});
  for (const truth::Position& p : found.gaze) {
    if (p.horizontal_deg == h && p.vertical_deg == v && p.fixing == fixing) return p;
  }
  FAIL("no such position");
  return {};
}

struct Peaks {
  PerEye<double> fastest{};  ///< deg/s, without its sign
  PerEye<double> from{};
  PerEye<double> to{};
};

// The target jumps; the eye that is covered does not guide.
Peaks watch_saccade(const Case& the_case, double from, double to, Eye covered) {
  Opening opening;
  opening.target = truth::plain_target(6.0, from);
  opening.covered = covered;
  Examination exam(setup_of(the_case), truth::kCalm, opening);
  truth::wait(exam, 500);
  Observation before = exam.observe();
  Peaks peaks;
  for (const Eye eye : kBothEyes) peaks.from[eye] = before.eye[eye].horizontal_deg;
  exam.apply(truth::plain_target(6.0, to));
  for (int t = 0; t < 3000; ++t) {
    exam.step();
    const Observation now = exam.observe();
    for (const Eye eye : kBothEyes) {
      const double speed =
          std::abs(now.eye[eye].horizontal_deg - before.eye[eye].horizontal_deg) * 1000.0;
      peaks.fastest[eye] = std::max(peaks.fastest[eye], speed);
    }
    before = now;
  }
  for (const Eye eye : kBothEyes) peaks.to[eye] = before.eye[eye].horizontal_deg;
  return peaks;
}

// Peak speed of a saccade of this size (Dai et al. 2016): what a healthy eye would reach.
double main_sequence(double degrees) { return 470.0 * (1.0 - std::exp(-std::abs(degrees) / 9.0)); }

}  // namespace

TEST_CASE("healthy muscles run no plant: the state and its hash are those of a patient without",
          "[muscles]") {
  const std::uint64_t plain = hash_after(case_with_deviation(-4, -6), 6000);
  const auto same_but = [](const std::string& muscles) {
    return hash_after(case_with(R"("deviation": {"distance_pd": -4, "near_pd": -6,
                                   "ac_a_pd_per_d": 4}, "muscles": {)" +
                                muscles + "}"),
                      6000);
  };
  CHECK(same_but(R"("tilt_gain": 2)") == plain);
  CHECK(same_but(R"("left": {"medial_rectus": {"limit_stiffness": 60}})") == plain);
  CHECK(same_but(R"("left": {"medial_rectus": {"strength": 0.999}})") != plain);
}

TEST_CASE("the engine finds what the cold plant says, in all nine gazes", "[muscles]") {
  // The engine looks at 6 m with fusion, vergence and table; the plant alone has none of them.
  const Case the_case = straight(weak("superior_oblique", 0.3));
  const truth::Truth found = truth::calc_truth(setup_of(the_case), {}, {true, false, false});
  const TwoEyes cold = weak_right(patient::kSuperiorOblique, 0.3);
  REQUIRE(found.gaze.size() == 18);
  for (const truth::Position& p : found.gaze) {
    const PlantDeviation d = cold.deviation(p.fixing, p.horizontal_deg, p.vertical_deg);
    INFO(p.horizontal_deg << " " << p.vertical_deg << " " << name_of(p.fixing));
    REQUIRE_FALSE(p.cannot_fixate);
    CHECK(p.horizontal_pd == Approx(d.horizontal_pd).margin(0.6));
    CHECK(p.vertical_pd == Approx(d.vertical_pd).margin(0.5));
    CHECK(p.torsion_deg == Approx(d.cyclo_deg).margin(0.4));
  }
}

TEST_CASE("a weak right lateral rectus: twelfth of the things that would convince a teacher",
          "[muscles]") {
  // About 18 with the left eye fixing, more with the right one; nearly straight in left gaze; the
  // abducting saccade at 60 % of the main sequence or below; less at near.
  const Case the_case = straight(weak("lateral_rectus", 0.22));
  const ExaminationSetup setup = setup_of(the_case);
  const auto primary = position(setup, 0, 0, Eye::left);
  const auto secondary = position(setup, 0, 0, Eye::right);
  CHECK(primary.horizontal_pd == Approx(18.0).margin(3.6));
  CHECK_FALSE(secondary.cannot_fixate);
  CHECK(secondary.horizontal_pd > primary.horizontal_pd + 6.0);
  CHECK(position(setup, -25, 0, Eye::left).horizontal_pd < 0.4 * primary.horizontal_pd);
  const double at_near = truth::calc_condition(setup, 0.4, false, Eye::left).horizontal_pd;
  CHECK(at_near < primary.horizontal_pd);

  const Peaks abducting = watch_saccade(the_case, -10, 10, Eye::right);
  const double made = abducting.to.right - abducting.from.right;
  CHECK(made > 5.0);
  CHECK(abducting.fastest.right <= 0.6 * main_sequence(made));
  CHECK(abducting.fastest.left >= 0.9 * main_sequence(20.0 * 0.93));
  // The other way it is not slowed by as much.
  const Peaks adducting = watch_saccade(the_case, 10, -10, Eye::right);
  CHECK(adducting.fastest.right > 1.5 * abducting.fastest.right);
}

TEST_CASE("a weak right superior oblique: thirteenth of those things", "[muscles]") {
  const Case the_case = straight(weak("superior_oblique", 0.0));
  const ExaminationSetup setup = setup_of(the_case);
  const truth::Truth found = truth::calc_truth(setup, {}, {true, false, false});
  const auto vertical = [&](double h, double v) {
    return std::find_if(found.gaze.begin(), found.gaze.end(),
                        [=](const truth::Position& p) {
                          return p.fixing == Eye::left && p.horizontal_deg == h &&
                                 p.vertical_deg == v;
                        })
        ->vertical_pd;
  };
  const auto tilted = [&](double roll) {
    return std::find_if(found.head_tilt.begin(), found.head_tilt.end(),
                        [=](const truth::Position& p) {
                          return p.fixing == Eye::left && p.roll_deg == roll;
                        })
        ->vertical_pd;
  };
  CHECK(vertical(-25, 0) > vertical(0, 0));
  CHECK(tilted(30) - tilted(-30) >= 6.0);
  for (const double h : {-25.0, 0.0, 25.0}) {
    for (const double v : {-25.0, 0.0, 25.0}) CHECK(vertical(h, v) <= vertical(-25, -25));
  }
  CHECK_FALSE(found.comitant);
  CHECK(found.largest_change_pd > 5.0);
  // Two images, and one above the other.
  Examination exam(setup, truth::kCalm);
  exam.apply(act::Ask{"single_or_double"});
  truth::wait(exam, 2000);
  const auto replies = exam.take_replies();
  REQUIRE(replies.size() == 1);
  CHECK(replies[0].answer == "double");
}

TEST_CASE("an eye without a lateral rectus cannot take up fixation ahead, and stops trying",
          "[muscles]") {
  const Case the_case = straight(weak("lateral_rectus", 0.0));
  const ExaminationSetup setup = setup_of(the_case);
  const truth::Truth found = truth::calc_truth(setup, {}, {true, false, false});
  for (const truth::Position& p : found.gaze) {
    if (p.fixing == Eye::right) CHECK(p.cannot_fixate == (p.horizontal_deg > -25.0));
    if (p.fixing == Eye::left) CHECK_FALSE(p.cannot_fixate);
  }
  const auto told = truth::to_json(found, "");
  for (const auto& p : told["gaze"]) CHECK(p["horizontal_pd"].is_null() == p["cannot_fixate"]);

  // The other eye is blind, so that this one has to go on.
  const Case alone = case_with(R"("deviation": {"distance_pd": 0, "near_pd": 0},
    "refraction": {"left": {"acuity_logmar": 3.0}}, "muscles": {)" +
                               weak("lateral_rectus", 0.0) + "}");
  Opening opening;
  opening.target = truth::plain_target(6.0, -20.0);
  Examination exam(setup_of(alone), kLiving, opening);
  exam.apply(truth::plain_target(6.0, 15.0));
  truth::wait(exam, 10000);
  const std::uint32_t tried = exam.patient_state().saccade.count;
  truth::wait(exam, 10000);
  CHECK(exam.patient_state().version.horizontal <= 50.0);
  CHECK(exam.observe().eye.right.horizontal_deg < 2.0);
  // A search would make four a second.
  CHECK(exam.patient_state().saccade.count - tried < 15);
  // The next target that it can reach, it takes up.
  exam.apply(truth::plain_target(6.0, -20.0));
  truth::wait(exam, 3000);
  CHECK(exam.observe().eye.right.horizontal_deg == Approx(-20.3).margin(1.0));
}

TEST_CASE("a stopped muscle: normal speed, then a sudden end", "[muscles]") {
  const Case the_case = straight(R"("right": {"medial_rectus": {"limit_deg": 8}})");
  const Peaks peaks = watch_saccade(the_case, -10, 15, Eye::right);
  CHECK(peaks.to.right < 12.0);
  CHECK(peaks.fastest.right > 0.95 * peaks.fastest.left);
}

TEST_CASE("a medial rectus that versions do not reach: slow adduction, vergence spared",
          "[muscles]") {
  // Internuclear weakness: adducting peak velocity 30 to 60 % of normal, convergence normal.
  const Case the_case = straight(R"("right": {"medial_rectus": {"version_gain": 0.4}})");
  const Peaks peaks = watch_saccade(the_case, 10, -10, Eye::right);
  CHECK(peaks.fastest.right <= 0.6 * peaks.fastest.left);
  CHECK(peaks.fastest.right >= 0.3 * peaks.fastest.left);
  const ExaminationSetup setup = setup_of(the_case);
  Opening near;
  near.target = truth::plain_target(0.25);
  Examination exam(setup, truth::kCalm, near);
  CHECK(exam.observe().fused);
  CHECK(position(setup, 0, 0, Eye::left).horizontal_pd == Approx(0.0).margin(0.3));
}

TEST_CASE("co-contraction draws the eye back and narrows the lids on adduction", "[muscles]") {
  const Case the_case = straight(R"("right": {"lateral_rectus": {"strength": 0.3,
      "share_of_medial": 0.1, "shorter_deg": 20, "stiffness": 2},
      "medial_rectus": {"limit_deg": 5}})");
  const ExaminationSetup setup = setup_of(the_case);
  const auto looking = [&](double horizontal) {
    Opening opening;
    opening.target = truth::plain_target(6.0, horizontal);
    return Examination(setup, truth::kCalm, opening).observe();
  };
  const Observation in = looking(-25);
  CHECK(in.eye.right.retraction_mm > 1.0);
  CHECK(in.eye.right.retraction_mm < 4.0);
  CHECK(in.eye.right.lid_open_fraction < 0.95 * in.eye.left.lid_open_fraction);
  CHECK(in.eye.left.retraction_mm == 0.0);
  CHECK(looking(25).eye.right.retraction_mm == 0.0);
}

TEST_CASE("muscles that tire: the deviation grows over a minute of looking up and goes with rest",
          "[muscles]") {
  const Case the_case = straight(R"("fatigability": {"right": 0.3})");
  Opening opening;
  opening.target = truth::plain_target(6.0, 0.0, 25.0);
  opening.covered = Eye::right;
  Examination exam(setup_of(the_case), truth::kCalm, opening);
  truth::wait(exam, 300);
  const double fresh = truth::calc_deviation(exam).vertical_pd;
  const double open = exam.observe().eye.right.lid_open_fraction;
  CHECK(fresh == Approx(0.0).margin(0.4));
  truth::wait(exam, 60000);
  const double tired = truth::calc_deviation(exam).vertical_pd - fresh;
  CHECK(std::abs(tired) > 7.0);  // about 10 in a minute (practice)
  CHECK(std::abs(tired) < 16.0);
  CHECK(exam.observe().eye.right.lid_open_fraction < 0.9 * open);
  // Two minutes of rest take seven tenths of it.
  exam.apply(truth::plain_target(6.0));
  truth::wait(exam, 120000);
  exam.apply(truth::plain_target(6.0, 0.0, 25.0));
  truth::wait(exam, 1500);
  const double left = truth::calc_deviation(exam).vertical_pd - fresh;
  CHECK(left / tired == Approx(0.3).margin(0.08));
}

TEST_CASE("skew: the same height in every gaze, and both eyes roll towards the lower one",
          "[muscles]") {
  const Case the_case = straight(R"("skew_pd": 8)");
  const ExaminationSetup setup = setup_of(the_case);
  const auto ahead = position(setup, 0, 0, Eye::left);
  const auto aside = position(setup, 25, 25, Eye::left);
  CHECK(ahead.vertical_pd == Approx(8.0).margin(0.3));
  CHECK(aside.vertical_pd == Approx(8.0).margin(0.3));
  const Observation o = Examination(setup, truth::kCalm).observe();
  CHECK(o.eye.right.torsion_deg < -2.0);
  CHECK(o.eye.left.torsion_deg == o.eye.right.torsion_deg);
}

TEST_CASE("whatever the muscles, nothing that is not a number gets into the state", "[muscles]") {
  const Case the_case = straight(R"("right": {"lateral_rectus": {"strength": 0, "limit_deg": -5},
      "superior_rectus": {"strength": 1.5}}, "left": {"medial_rectus": {"version_gain": 0}},
      "tilt_gain": 2)");
  Examination exam(setup_of(the_case), kLiving);
  act::TiltHead tilt;
  tilt.roll_deg = 60.0;
  exam.apply(tilt);
  exam.apply(truth::plain_target(0.2, 40.0, -40.0));
  for (int t = 0; t < 5000; ++t) {
    exam.step();
    const Observation o = exam.observe();
    for (const Eye eye : kBothEyes) {
      REQUIRE(std::abs(o.eye[eye].horizontal_deg) < 90.0);
      REQUIRE(std::abs(o.eye[eye].vertical_deg) < 90.0);
      REQUIRE(std::abs(o.eye[eye].torsion_deg) < 60.0);
    }
    // Commands stay within the clinical limits of ductions, however little they achieve.
    const patient::Angles& version = exam.patient_state().version;
    REQUIRE(std::abs(version.horizontal) <= 50.0);
    REQUIRE(std::abs(version.vertical) <= 50.0);
  }
}
