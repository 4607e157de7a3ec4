// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The hand that holds the occluder, before the practitioner's own eyes.
#include "sim/room/holding_hand.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <vector>

#include "sim/findings/evidence.hpp"
#include "sim/optics/sight.hpp"
#include "sim/room/practitioner.hpp"
#include "tests/support/story.hpp"

using namespace redress;
using namespace redress::tests;

namespace {

constexpr double kIrisMm = 6.0;
constexpr Tick kEach = 900;  // ms for one act of covering

Act move_to(Tick at_ms, double x_mm, double y_mm, std::int32_t travel_ms = 0) {
  act::MoveOccluder a;
  a.x_mm = x_mm;
  a.y_mm = y_mm;
  a.z_mm = -33.0;
  a.travel_ms = travel_ms;
  return {at_ms, a};
}

/// Clearance of the straight line through (x, y), for a blade at (bx, by).
double at(double bx, double by, double x, double y) {
  return held_clearance({bx, by, -33, 0}, {x, y, 0}, {x, y, -6000});
}

/// The least clearance of handle and hand from any line between an eye that the blade leaves free
/// and one of the practitioner's, over all these acts.
double find_least(const Case& c, const std::vector<ActContent>& acts) {
  Examination exam(setup_of(c), Chance{1, 0.0, true});
  double least = optics::kNoCrossingMm;
  for (const ActContent& each : acts) {
    exam.apply(each);
    for (Tick t = 0; t < kEach; ++t, exam.step()) {
      const RoomState& room = exam.room();
      if (!room.occluder.before_face) continue;
      const Observation seen = exam.observe();
      for (const Eye eye : kBothEyes) {
        const Vector pupil = optics::entrance_pupil(
            optics::centre_of_rotation(eye, c.patient.interpupillary_distance),
            line_of_sight(
                {Degrees{seen.eye[eye].horizontal_deg}, Degrees{seen.eye[eye].vertical_deg}}));
        for (const Vector& own : {room.viewpoint, own_eye(room.viewpoint, Eye::right),
                                  own_eye(room.viewpoint, Eye::left)}) {
          if (optics::cuts(room.occluder.pose, pupil, own)) continue;
          least = std::min(least, held_clearance(room.occluder.pose, pupil, own));
        }
      }
    }
  }
  return least;
}

}  // namespace

TEST_CASE("the handle leans outwards before an eye and hangs straight in the midline", "[room]") {
  CHECK(handle_lean_deg({0, 5, -33, 0}) == 0.0);
  CHECK(handle_lean_deg({31, 5, -33, 0}) == Approx(45.0));
  CHECK(handle_lean_deg({-31, 5, -33, 0}) == Approx(-45.0));
  CHECK(handle_lean_deg({101, 5, -33, 0}) == Approx(45.0));
  for (double x = -40.0; x < 40.0; x += 0.25) {
    const double now = handle_lean_deg({x, 0, -33, 0});
    const double next = handle_lean_deg({x + 0.25, 0, -33, 0});
    CHECK(next >= now);
    CHECK(next - now < 0.25 * 3.0);  // of a turn, no jump
    CHECK(now == Approx(-handle_lean_deg({-x, 0, -33, 0})).margin(1e-12));
  }
}

TEST_CASE("handle, fist and forearm lie along the handle's line", "[room]") {
  // Straight down from the middle of a blade in the midline: the handle from 31 mm on, the fist 30
  // mm to either side from 47 mm on.
  CHECK(at(0, 0, 0, -30) == Approx(1.0));
  CHECK(at(0, 0, 7.5, -40) == Approx(2.0));
  CHECK(at(0, 0, 33, -80) == Approx(3.0));
  CHECK(at(0, 0, -33, -80) == Approx(3.0));
  CHECK(at(0, 0, 10, -80) < 0.0);
  CHECK(at(0, 0, 0, -200) < 0.0);
  // Before the right eye the same lies 45 degrees outwards: 80 mm along is 56.6 mm down and aside.
  CHECK(at(31, 0, 31 + 56.6, -56.6) < 0.0);
  CHECK(at(31, 0, 31, -80) > 20.0);
  // A quarter turn of the plate takes what hangs to the patient's left.
  CHECK(held_clearance({0, 0, -33, 90}, {-80, 0, 0}, {-80, 0, -6000}) < 0.0);
  // Beyond the hand, nothing hides.
  CHECK(held_clearance({0, 0, -33, 0}, {0, -80, 0}, {0, -80, -20}) == optics::kNoCrossingMm);
}

TEST_CASE("no usual way of covering brings the hand before an open eye", "[room]") {
  for (const int apart_mm : {46, 54, 62, 70}) {
    const Case c =
        case_with(R"("patient": {"interpupillary_distance_mm": )" + std::to_string(apart_mm) +
                  R"(}, "deviation": {"distance_pd": -6, "near_pd": -8})");
    for (const double distance_m : {0.33, 0.4, 6.0}) {
      for (const double gaze_deg : {0.0, -25.0, 25.0}) {
        if (gaze_deg != 0.0 && distance_m != 0.4) continue;
        std::vector<ActContent> acts{show(0, distance_m, 0.0, gaze_deg).content};
        for (const Side side : {Side::above, Side::below, Side::temporal}) {
          act::Cover right;
          right.from = side;
          act::Cover left = right;
          left.eye = Eye::left;
          act::Uncover away;
          away.towards = side;
          const act::Cover to_right{};  // transfers
          act::Cover to_left;
          to_left.eye = Eye::left;
          for (const ActContent& each : std::initializer_list<ActContent>{
                   right, away, left, away, right, to_left, to_right, away}) {
            acts.push_back(each);
          }
        }
        INFO(apart_mm << " mm apart, target at " << distance_m << " m, " << gaze_deg << " deg up");
        // Not the pupil alone: the whole iris, from beside which an eye is watched.
        CHECK(find_least(c, acts) > kIrisMm);
      }
    }
  }
}

TEST_CASE("a hand that a mouse brings before the eye costs view, and no patient's sight",
          "[room]") {
  const auto lift_to = [](double x_mm) {
    const std::vector<Act> acts{show(0, 6.0), move_to(3000, 31, 0), move_to(6000, x_mm, 78, 200)};
    return findings::gather_evidence(setup_of(case_with_deviation(-6, -9)), acts,
                                     Chance{1, 0.0, true}, 10000);
  };
  // Straight up the handle leans away; towards the midline it hangs before the eye.
  const auto clear = lift_to(31);
  REQUIRE(clear.covers.size() == 1);
  CHECK(clear.covers[0].view_on_uncover > 0.9);
  const auto hidden = lift_to(12);
  REQUIRE(hidden.covers.size() == 1);  // for the patient the cover is over
  CHECK(hidden.covers[0].ended);
  CHECK(hidden.covers[0].view_on_uncover < 0.4);
  CHECK(hidden.covers[0].own_eye_lost_ms.right > 300);
  CHECK(hidden.covers[0].own_eye_lost_ms.left > 300);
}
