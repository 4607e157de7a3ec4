// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// An examiner sees what a person in that chair would see, and what it does can be run again.
#include <catch2/catch.hpp>

#include "sim/cases/defaults.hpp"
#include "sim/cases/setup.hpp"
#include "sim/examiners/consulting.hpp"
#include "sim/examiners/examine.hpp"
#include "sim/record/run.hpp"

using namespace redress;
using examiners::Consulting;
using examiners::Glance;

namespace {

ExaminationSetup setup_with(double distance_pd) {
  Case c = make_healthy_case();
  c.deviation.distance = PrismDioptres{distance_pd};
  c.deviation.near = PrismDioptres{distance_pd};
  return setup_of(c);
}

act::Cover cover(Eye eye, OccluderKind kind) {
  act::Cover a;
  a.eye = eye;
  a.occluder = kind;
  return a;
}

struct Nothing {};

}  // namespace

TEST_CASE("The eye behind an opaque occluder cannot be seen", "[examiners]") {
  const ExaminationSetup setup = setup_with(-6.0);
  for (const Eye eye : kBothEyes) {
    Examination exam(setup, {1, 1.0});
    Consulting room(exam);
    room.act(cover(eye, OccluderKind::opaque));
    room.wait(3000);
    const Glance last = room.glances().back();
    REQUIRE(exam.observe().eye[eye].covered);
    CHECK(exam.observe().eye[eye].horizontal_deg != 0.0);
    CHECK_FALSE(last.eye[eye].visible);
    CHECK(last.eye[eye].horizontal_deg == 0.0);
    CHECK(last.eye[eye].vertical_deg == 0.0);
    CHECK(last.eye[eye].lid_open_fraction == 0.0);
    CHECK(last.eye[fellow(eye)].visible);
    room.act(act::Uncover{});
    room.wait(500);
    CHECK(room.glances().back().eye[eye].visible);
  }
}

TEST_CASE("Through a translucent occluder the examiner sees the eye", "[examiners]") {
  Examination exam(setup_with(-6.0), {1, 0.0});
  Consulting room(exam);
  room.act(cover(Eye::left, OccluderKind::translucent));
  room.wait(4000);
  const Observation o = exam.observe();
  REQUIRE(o.eye.left.covered);
  CHECK(room.glances().back().eye.left.visible);
  CHECK(room.glances().back().eye.left.horizontal_deg == o.eye.left.horizontal_deg);
}

TEST_CASE("Answers are heard after they are given", "[examiners]") {
  Examination exam(setup_with(0.0), {1, 0.0});
  Consulting room(exam);
  room.act(act::Ask{"single_or_double"});
  room.wait(100);
  CHECK(room.find_answer("single_or_double").empty());
  room.wait(2000);
  CHECK_FALSE(room.find_answer("single_or_double").empty());
}

TEST_CASE("The acts of an examiner, run again, give the same examination", "[examiners]") {
  const ExaminationSetup setup = setup_with(-6.0);
  for (const auto kind : {examiners::Kind::reference, examiners::Kind::random}) {
    const Chance chance{7, 1.0};
    Examination exam(setup, chance);
    examiners::Habits habits;
    habits.kind = kind;
    habits.seed = 7;
    const examiners::Examined examined = examiners::examine(exam, habits);
    REQUIRE(examined.until == exam.now());
    Nothing sink;
    const record::RunEnd again =
        record::run(setup, examined.acts, {chance, examined.until}, sink);
    CHECK(again.acts == examined.acts.size());
    CHECK(again.hash == exam.hash());
  }
}
