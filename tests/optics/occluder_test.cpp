// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The occluder's outline (50 by 70 mm, corners of 20 mm), and the hand's path.
#include "sim/optics/occluder.hpp"

#include <catch2/catch.hpp>
#include <rapidcheck.h>

#include "sim/basics/elementary.hpp"
#include "sim/optics/path.hpp"

using namespace redress;
using namespace redress::optics;

namespace {

/// Clearance of the line straight ahead through (x, y).
double at(const OccluderPose& pose, double x, double y) {
  return clearance(pose, {x, y, 0}, {x, y, -6000});
}

double tenths(int low, int high) { return *rc::gen::inRange(low, high) * 0.1; }

}  // namespace

TEST_CASE("Distances to the plate's outline", "[optics]") {
  const OccluderPose plate{10, -5, -33, 0};
  CHECK(at(plate, 10, -5) == Approx(-25.0));
  CHECK(at(plate, 10 + 25, -5) == Approx(0.0).margin(1e-12));
  CHECK(at(plate, 10 - 25, -5) == Approx(0.0).margin(1e-12));
  CHECK(at(plate, 10, -5 + 35) == Approx(0.0).margin(1e-12));
  CHECK(at(plate, 10, -5 - 36) == Approx(1.0));
  CHECK(at(plate, 10 + 28, -5 + 10) == Approx(3.0));
  // The corner's centre is at (5, 15); along its diagonal the outline is 20 mm further on.
  const double diagonal = 20.0 / elementary::square_root(2.0);
  CHECK(at(plate, 10 + 5 + diagonal, -5 + 15 + diagonal) == Approx(0.0).margin(1e-12));
  // What a plate with square corners would cut, this one lets pass.
  CHECK(at(plate, 10 + 24, -5 + 34) == Approx(elementary::hypotenuse(19, 19) - 20.0));
  CHECK_FALSE(cuts(plate, {34, 29, 0}, {34, 29, -6000}));
  CHECK(cuts(plate, {10, -5, 0}, {10, -5, -6000}));
}

TEST_CASE("A rolled plate turns its top to the patient's right", "[optics]") {
  const OccluderPose quarter{0, 0, -33, 90};
  CHECK(at(quarter, 34, 0) == Approx(-1.0));
  CHECK(at(quarter, 0, 26) == Approx(1.0));
  const OccluderPose tilted{0, 0, -33, 20};
  // The far end of the plate's upper half, 20 degrees from the vertical towards +x.
  const double angle = 20 * elementary::kRadiansPerDegree;
  CHECK(at(tilted, 35 * elementary::sine(angle), 35 * elementary::cosine(angle)) ==
        Approx(0.0).margin(1e-12));
  CHECK(at(tilted, -35 * elementary::sine(angle), 35 * elementary::cosine(angle)) > 1.0);
}

TEST_CASE("Only a line that reaches the plate is cut", "[optics]") {
  const OccluderPose plate{0, 0, -33, 0};
  CHECK(cuts(plate, {0, 0, -10}, {0, 0, -400}));
  CHECK(cuts(plate, {0, 0, -400}, {0, 0, -10}));
  CHECK_FALSE(cuts(plate, {0, 0, -40}, {0, 0, -400}));  // behind the eye's side
  CHECK_FALSE(cuts(plate, {0, 0, -10}, {0, 0, -32}));   // a target nearer than the plate
  CHECK_FALSE(cuts(plate, {0, 0, -33}, {10, 0, -33}));  // along the plate
  CHECK(clearance(plate, {0, 0, -10}, {0, 0, -20}) == kNoCrossingMm);
  // An oblique line is judged where it crosses the plane: half-way, at x = 20.
  CHECK(clearance({0, 0, -50, 0}, {0, 0, 0}, {40, 0, -100}) == Approx(-5.0));
}

TEST_CASE("The occluder mirrors exactly", "[optics]") {
  const bool held = rc::check([] {
    const double x = tenths(-800, 801);
    const double y = tenths(-800, 801);
    const double roll = tenths(-900, 901);
    const Vector from{tenths(-400, 401), tenths(-50, 51), -10.45};
    const Vector to{tenths(-2000, 2001), tenths(-2000, 2001), -400};
    const double one = clearance({x, y, -33, roll}, from, to);
    const double other = clearance({-x, y, -33, -roll}, {-from.x, from.y, from.z},
                                   {-to.x, to.y, to.z});
    RC_ASSERT(one == other);
    RC_ASSERT(one != kNoCrossingMm);
  });
  REQUIRE(held);
}

TEST_CASE("Clearance is a distance: it changes no faster than the place", "[optics]") {
  const bool held = rc::check([] {
    const OccluderPose plate{0, 0, -33, tenths(-900, 901)};
    const double x = tenths(-600, 601);
    const double y = tenths(-600, 601);
    const double dx = tenths(-100, 101);
    const double dy = tenths(-100, 101);
    const double change = at(plate, x + dx, y + dy) - at(plate, x, y);
    RC_ASSERT(elementary::magnitude(change) <= elementary::hypotenuse(dx, dy) + 1e-9);
  });
  REQUIRE(held);
}

TEST_CASE("The hand's path is the minimum-jerk polynomial", "[optics][published]") {
  // Flash & Hogan 1985, J Neurosci 5:1688: 10 u^3 - 15 u^4 + 6 u^5; greatest speed 1.875 half-way.
  CHECK(minimum_jerk_fraction(-1) == 0.0);
  CHECK(minimum_jerk_fraction(0) == 0.0);
  CHECK(minimum_jerk_fraction(0.25) == Approx(0.103515625));
  CHECK(minimum_jerk_fraction(0.5) == Approx(0.5).epsilon(1e-15));
  CHECK(minimum_jerk_fraction(1) == 1.0);
  CHECK(minimum_jerk_fraction(2) == 1.0);
  CHECK((minimum_jerk_fraction(0.501) - minimum_jerk_fraction(0.499)) / 0.002 ==
        Approx(1.875).epsilon(1e-4));
}
