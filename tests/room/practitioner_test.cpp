// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The practitioner's own head before the target.
#include <catch2/catch.hpp>

#include <vector>

#include "sim/findings/evidence.hpp"
#include "sim/optics/sight.hpp"
#include "sim/room/practitioner.hpp"
#include "tests/support/story.hpp"

using namespace redress;
using namespace redress::tests;

namespace {

const Vector kEye = optics::centre_of_rotation(Eye::right, Millimetres{63.0});
const Vector kLetter = optics::target_point(6.0, 0, 0);

Act lean(Tick at_ms, double across_mm, double up_mm) {
  return {at_ms, act::MoveViewpoint{across_mm, up_mm, -500.0}};
}

}  // namespace

TEST_CASE("a head in its seat hides no target, one that rises does", "[room]") {
  for (const double horizontal : {-30.0, 0.0, 30.0}) {
    for (const double vertical : {-30.0, 0.0, 30.0}) {
      const Vector target = optics::target_point(6.0, horizontal, vertical);
      CHECK_FALSE(hides_target({0, 0, -500}, kEye, target));
      CHECK_FALSE(hides_target({100, 0, -500}, kEye, target));
      CHECK(hides_target({0, 80, -500}, kEye, target));
    }
  }
  // The eye's line passes the head 28.9 mm to the right at 6 m: 31.5 (1 - 0.5 / 6). The top of an
  // ellipse 77 by 115 mm is there 115 sqrt(1 - (28.9 / 77)^2) = 106.6 mm above its middle, which
  // is 140 mm under the line: it reaches the line at a rise of 33.4 mm (arithmetic).
  CHECK_FALSE(hides_target({0, 33.0, -500}, kEye, kLetter));
  CHECK(hides_target({0, 33.8, -500}, kEye, kLetter));
  // Past 77 mm beside the line, no rise reaches it.
  CHECK_FALSE(hides_target({28.9 + 77.5, 140, -500}, kEye, kLetter));
  CHECK(hides_target({28.9 + 76.5, 140, -500}, kEye, kLetter));
}

TEST_CASE("a target nearer than the head is never hidden", "[room]") {
  CHECK_FALSE(hides_target({0, 80, -500}, kEye, optics::target_point(0.4, 0, 0)));
  CHECK(hides_target({0, 80, -300}, kEye, optics::target_point(0.4, 0, 0)));
}

TEST_CASE("behind the practitioner's head the eyes go where they rest, and come back", "[room]") {
  const Case exophoric = case_with_deviation(-6, -9);
  const std::vector<Act> acts{lean(2000, 0, 80), lean(10000, 0, 0)};
  const Trace trace = run_story(exophoric, acts, 16000);
  CHECK(trace.deviation_pd(1900) == Approx(0).margin(0.5));
  CHECK(trace.deviation_pd(9900) == Approx(-6).margin(1.0));
  CHECK(trace.deviation_pd(15900) == Approx(0).margin(0.5));

  const auto e = findings::gather_evidence(setup_of(exophoric), acts, Chance{1, 0.0, true}, 16000);
  CHECK(e.head_before_target_ms == Approx(8000).margin(2));
  CHECK(e.covers.empty());  // it is no cover
}

TEST_CASE("the head hides the target from one eye alone, from beside", "[room]") {
  // 90 mm to the patient's right and 80 up: before the right eye's line, beside the left one's.
  const std::vector<Act> acts{lean(2000, 90, 80)};
  const Trace trace = run_story(case_with_deviation(-6, -9), acts, 9000);
  CHECK(trace.deviation_pd(9000) == Approx(-6).margin(1.0));
  // The left eye keeps the target.
  CHECK(trace.at(9000).eye.left.horizontal_deg ==
        Approx(trace.at(1900).eye.left.horizontal_deg).margin(0.3));
}
