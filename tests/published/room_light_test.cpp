// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The lights of the room and the pupils: Watson and Yellott 2012, "A unified formula for
// light-adapted pupil size", J Vis 12(10):12 (the formula from memory).
#include <catch2/catch.hpp>

#include <cmath>

#include "sim/cases/case_file.hpp"
#include "sim/cases/setup.hpp"
#include "sim/room/examination.hpp"

using namespace redress;

namespace {

Examination make_examination() {
  // 28 years: near the mean age of those on whom the formula was made: its age term is next to
  // nothing.
  const Result<Case> read = read_case_text(
      R"({"format":"redress-case","version":1,"title":"light","patient":{"age_years":28},)"
      R"("deviation":{"distance_pd":-1,"near_pd":-3}})");
  REQUIRE(read.ok());
  return Examination(setup_of(read.value()), {1, 0.0, true});
}

void pass(Examination& exam, int ms) {
  for (int i = 0; i < ms; ++i) exam.step();
}

double pupil_of(const Examination& exam) { return exam.observe().eye.right.pupil_mm; }

/// Diameter, mm, of both pupils for a luminance in cd/m2 over a wide field (60 degrees across).
double calc_published(double luminance) {
  constexpr double kAreaDeg2 = 3.14159265 * 30 * 30;
  const double x = std::pow(luminance * kAreaDeg2 / 846, 0.41);
  return 7.75 - 5.75 * (x / (x + 2));
}

}  // namespace

TEST_CASE("a dimmed room widens pupils as a tenth of its light does") {
  constexpr double kLitRoom = 50;  // cd/m2 of the walls at 300 lux (common practice, no source)
  const double expected = calc_published(kLitRoom / 10) - calc_published(kLitRoom);
  Examination exam = make_examination();
  pass(exam, 500);
  const double lit = pupil_of(exam);
  exam.apply(act::RoomLight{LightLevel::dim});
  pass(exam, 9000);  // dilatation is slow
  INFO("by " << pupil_of(exam) - lit << " mm, published " << expected);
  CHECK(pupil_of(exam) - lit == Approx(expected).margin(0.2));
  exam.apply(act::RoomLight{LightLevel::bright});
  pass(exam, 4000);
  CHECK(pupil_of(exam) == Approx(lit).margin(0.02));
}

TEST_CASE("dimmed, a pupil widens further when an eye is covered, and a penlight narrows it") {
  Examination exam = make_examination();
  exam.apply(act::RoomLight{LightLevel::dim});
  pass(exam, 9000);
  const double dim = pupil_of(exam);
  exam.apply(act::Cover{Eye::left, OccluderKind::opaque, Side::above, 0});
  pass(exam, 9000);
  CHECK(pupil_of(exam) > dim + 0.1);
  exam.apply(act::Uncover{Side::above, 0});
  exam.apply(act::Penlight{true});
  pass(exam, 9000);
  CHECK(pupil_of(exam) < dim);
}

TEST_CASE("lights that were never dimmed leave no trace in the state") {
  Examination touched = make_examination();
  Examination untouched = make_examination();
  touched.apply(act::RoomLight{LightLevel::bright});
  pass(touched, 700);
  pass(untouched, 700);
  CHECK(touched.hash() == untouched.hash());
  touched.apply(act::RoomLight{LightLevel::dim});
  CHECK(touched.hash() != untouched.hash());
}
