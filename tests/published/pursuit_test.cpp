// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Smooth pursuit, and eyes that stay on the target while the head turns.
#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <utility>

#include "tests/support/story.hpp"

using namespace redress;
using namespace redress::tests;

namespace {

const char* const kStraight = R"("deviation": {"distance_pd": 0, "near_pd": -3})";

Act at(Tick t, ActContent content) { return {t, std::move(content)}; }

act::ShowTarget target(double horizontal_deg, std::int32_t travel_ms) {
  act::ShowTarget t;
  t.distance_m = 6.0;
  t.horizontal_deg = horizontal_deg;
  t.travel_ms = travel_ms;
  return t;
}

// The greatest step of the right eye within 10 ms, degrees: a saccade of some size shows in it.
double fastest(const Trace& trace, Tick from, Tick to) {
  double most = 0.0;
  for (Tick t = from; t + 10 <= to; ++t) {
    most = std::max(most, std::abs(trace.at(t + 10).eye.right.horizontal_deg -
                                   trace.at(t).eye.right.horizontal_deg));
  }
  return most;
}

}  // namespace

TEST_CASE("a target that moves smoothly is followed smoothly, with a tenth of a second's delay") {
  // Onset 100 to 130 ms (Carl & Gellman 1987, J Neurophysiol; from memory), gain 0.9 to 1 at
  // moderate speeds (Leigh & Zee; from memory).
  const Case c = case_with(kStraight);
  const Trace trace = run_story(c, {at(0, target(0, 0)), at(1000, target(20, 4000))}, 7000);
  // Minimum jerk: 20 degrees in 4 s peaks at 9.4 deg/s at half time.
  const double speed =
      (trace.at(3100).eye.right.horizontal_deg - trace.at(2900).eye.right.horizontal_deg) / 0.2;
  CHECK(speed > 0.9 * 9.375);
  CHECK(speed < 1.1 * 9.375);
  // The eye is never far behind, and no saccade of more than a degree is needed.
  const double behind = 10.0 - trace.at(3000).eye.right.horizontal_deg;
  CHECK(std::abs(behind) < 1.5);
  CHECK(fastest(trace, 1000, 6000) < 1.2);
  CHECK(trace.at(7000).eye.right.horizontal_deg == Approx(20.0).margin(0.5));
}

TEST_CASE("nothing has moved yet when pursuit begins, 100 to 130 ms after the target") {
  const Case c = case_with(kStraight);
  // 40 degrees in 1 s: the target is seen to move within a few ms; the eye is still for 100.
  const Trace trace = run_story(c, {at(0, target(-20, 0)), at(2000, target(20, 1500))}, 4000);
  const double start = trace.at(2000).eye.right.horizontal_deg;
  CHECK(std::abs(trace.at(2100).eye.right.horizontal_deg - start) < 0.02);
  CHECK(trace.at(2350).eye.right.horizontal_deg - start > 0.5);
}

TEST_CASE("a target too fast to pursue is caught with saccades") {
  const Case c = case_with(kStraight);
  // 45 degrees in 0.6 s peaks at 140 deg/s.
  const Trace trace = run_story(c, {at(0, target(-22, 0)), at(2000, target(23, 600))}, 4000);
  CHECK(fastest(trace, 2000, 3200) > 1.5);
  CHECK(trace.at(4000).eye.right.horizontal_deg == Approx(23.0).margin(0.6));
}

TEST_CASE("the eyes stay on the target while the head is turned, covered or not") {
  // The vestibulo-ocular reflex: no saccade is needed, and a covered eye turns as its fellow does.
  const Case c = case_with(kStraight);
  act::TiltHead turn;
  turn.turn_deg = 25.0;
  turn.travel_ms = 1000;
  const Trace trace = run_story(c, {at(0, target(0, 0)), at(2000, turn)}, 5000);
  CHECK(fastest(trace, 2000, 4000) < 1.0);
  CHECK(trace.at(2500).eye.right.horizontal_deg == Approx(-12.5).margin(1.0));
  CHECK(trace.at(5000).eye.right.horizontal_deg == Approx(-25.0).margin(0.6));

  const Trace dark =
      run_story(c, {at(0, target(0, 0)), cover(1000, Eye::right), at(2000, turn)}, 5000);
  CHECK(dark.at(2500).eye.right.horizontal_deg ==
        Approx(dark.at(2500).eye.left.horizontal_deg).margin(1.0));
}

TEST_CASE("an eye follows a target that comes nearer by vergence, not by pursuit") {
  const Case c = case_with(kStraight);
  act::ShowTarget near = target(0, 3000);
  near.distance_m = 0.40;
  const Trace trace = run_story(c, {at(0, target(0, 0)), at(1000, near)}, 8000);
  const double middle =
      0.5 * (trace.at(8000).eye.right.horizontal_deg + trace.at(8000).eye.left.horizontal_deg);
  CHECK(std::abs(middle) < 0.4);
  CHECK(trace.at(8000).fused);
}
