// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// What practice points out about the practitioner's own hands, head and eyes.
#include <optional>
#include <string>
#include <vector>

#include <catch2/catch.hpp>

#include "render/screens/examine/cautions.hpp"
#include "sim/cases/setup.hpp"
#include "sim/room/examination.hpp"
#include "tests/support/story.hpp"

using namespace redress;
using namespace redress::tests;
using screens::examine::Cautions;

namespace {

struct SaidAt {
  Tick at_ms;
  std::string words;
};

std::vector<SaidAt> watch(const std::vector<Act>& acts, Tick until) {
  const auto setup = setup_of(case_with_deviation(-6, -9));
  Examination exam(setup, Chance{1, 0.0, true}, act::ShowTarget{});
  Cautions cautions;
  std::vector<SaidAt> said;
  auto next = acts.begin();
  while (exam.now() < until) {
    while (next != acts.end() && next->at_ms <= exam.now()) exam.apply((next++)->content);
    exam.step();
    if (auto words = cautions.step(exam.now(), exam.room(), setup.room.interpupillary)) {
      said.push_back({exam.now(), *words});
    }
  }
  return said;
}

Act hold(Tick at_ms, double x_mm, double cornea_mm) {
  act::MoveOccluder a;
  a.x_mm = x_mm;
  a.z_mm = -(cornea_mm + 13.5);
  return {at_ms, a};
}

}  // namespace

TEST_CASE("an occluder held too far off is pointed out once", "[screens][cautions]") {
  CHECK(watch({cover(1000, Eye::right), uncover(5000)}, 9000).empty());
  CHECK(watch({hold(1000, 31.5, 25)}, 9000).empty());
  const auto said = watch({hold(1000, 31.5, 45)}, 15000);
  REQUIRE(said.size() == 1);
  CHECK(said[0].words == "Your occluder is 45 mm from the face; the eye could see round it.");
  CHECK(said[0].at_ms == Approx(1600).margin(10));
  // Beside the eye it covers nothing, and nothing is said.
  CHECK(watch({hold(1000, 110, 45)}, 9000).empty());
}

TEST_CASE("the own head before the target is pointed out", "[screens][cautions]") {
  const auto said = watch({{1000, act::MoveViewpoint{0, 80, -500}}}, 9000);
  REQUIRE(said.size() == 1);
  CHECK(said[0].words == "Your head is before the target.");
}

TEST_CASE("the own hand before an eye is pointed out, one that passes or is aside is not",
          "[screens][cautions]") {
  const auto lift_to = [](double x_mm, double y_mm) {
    act::MoveOccluder up;
    up.x_mm = x_mm;
    up.y_mm = y_mm;
    up.z_mm = -33.0;
    return watch({hold(1000, 31.5, 20), {5000, up}}, 9000);
  };
  const auto said = lift_to(12, 78);
  REQUIRE(said.size() == 1);
  CHECK(said[0].words == "Your hand hides the patient's right eye.");
  CHECK(said[0].at_ms == Approx(5300).margin(10));
  CHECK(lift_to(31.5, 78).empty());  // the handle leans away
  CHECK(lift_to(-12, 78).size() == 1);
  CHECK(lift_to(-12, 78)[0].words == "Your hand hides the patient's left eye.");
}

TEST_CASE("an own eye that does not see the eye it should watch is pointed out",
          "[screens][cautions]") {
  // From 60 mm in front of the patient's right eye and beside it, the occluder before that eye
  // stands between the own left eye (on the patient's right) and the patient's left eye.
  const auto said = watch({{500, act::MoveViewpoint{120, 0, -120}}, hold(1000, 31.5, 25)}, 9000);
  REQUIRE_FALSE(said.empty());
  CHECK(said[0].words == "Your own left eye has not seen the patient's left eye for 4 s.");
  CHECK(said[0].at_ms == Approx(5000).margin(300));
}

TEST_CASE("the same caution comes again only after a while", "[screens][cautions]") {
  std::vector<Act> acts;
  for (int i = 0; i < 6; ++i) {
    acts.push_back(hold(1000 + 6000 * i, 31.5, 45));
    acts.push_back(uncover(4000 + 6000 * i));
  }
  const auto said = watch(acts, 40000);
  REQUIRE(said.size() == 2);
  CHECK(said[1].at_ms - said[0].at_ms >= Cautions::kAgainMs);
}
