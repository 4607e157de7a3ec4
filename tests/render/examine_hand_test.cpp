// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The hand that holds the occluder. Values: the design of the screens, section 2 ("The core").
#include <cmath>
#include <cstdint>
#include <vector>

#include <catch2/catch.hpp>

#include "render/screens/examine/hand.hpp"

using namespace redress;
using namespace redress::screens::examine;
namespace values = redress::screens::examine::hand_values;

namespace {

constexpr double kPlane = -(13.5 + values::kAtFirst);

/// A hand with a room that only knows where it was told that the occluder is.
struct Bench {
  Hand hand;
  OccluderState room;
  Tick now = 0;
  std::vector<std::pair<Tick, ActContent>> told;
  std::vector<optics::OccluderPose> path;

  void point(double x_mm, double y_mm) {
    hand.point(now, {{x_mm, y_mm, -500}, {x_mm, y_mm, kPlane}});
  }
  void run(Tick ticks) {
    for (Tick end = now + ticks; now < end; ++now) {
      if (const auto content = hand.step(now, room)) {
        told.emplace_back(now, *content);
        if (const auto* move = std::get_if<act::MoveOccluder>(&*content)) {
          room.before_face = true;
          room.pose = {move->x_mm, move->y_mm, move->z_mm, move->roll_deg};
        } else {
          room.before_face = false;
        }
      }
      path.push_back(hand.pose());
    }
  }
  [[nodiscard]] const act::MoveOccluder& last_move() const {
    for (auto it = told.rbegin(); it != told.rend(); ++it) {
      if (const auto* move = std::get_if<act::MoveOccluder>(&it->second)) return *move;
    }
    throw std::runtime_error("the hand told nothing");
  }
};

double speed(const optics::OccluderPose& a, const optics::OccluderPose& b) {
  return std::sqrt((a.x_mm - b.x_mm) * (a.x_mm - b.x_mm) + (a.y_mm - b.y_mm) * (a.y_mm - b.y_mm) +
                   (a.z_mm - b.z_mm) * (a.z_mm - b.z_mm));
}

}  // namespace

TEST_CASE("ready, the occluder waits below the face and tells nothing") {
  Bench bench;
  bench.point(31, 0);
  bench.run(100);
  CHECK(bench.told.empty());
  const optics::OccluderPose pose = bench.hand.ready_pose();
  CHECK(pose.x_mm == Approx(31));
  CHECK(pose.y_mm + 35 == Approx(-38));     // its top edge 38 mm under the eye line
  CHECK(-pose.z_mm - 13.5 == Approx(120));  // 120 mm before the cornea
}

TEST_CASE("pressed, it comes up from where it waits and ends at the pointer without overshoot") {
  Bench bench;
  bench.point(31, 0);
  bench.hand.press(bench.room);
  bench.run(800);
  const auto& first = std::get<act::MoveOccluder>(bench.told.front().second);
  CHECK(first.y_mm == Approx(-73));
  CHECK(first.travel_ms == 0);
  CHECK(bench.last_move().x_mm == Approx(31).margin(0.01));
  CHECK(bench.last_move().y_mm == Approx(0).margin(0.01));
  CHECK(-bench.last_move().z_mm - 13.5 == Approx(20).margin(0.01));
  for (const optics::OccluderPose& pose : bench.path) CHECK(pose.y_mm < 0.5);
  SECTION("and at rest it tells nothing more") {
    const std::size_t before = bench.told.size();
    bench.run(500);
    CHECK(bench.told.size() == before);
  }
}

TEST_CASE("it follows a step with a time constant of 45 ms, as a critically damped system") {
  // A small step stays within the limits of the arm: e(t) = (1 + t/T) exp(-t/T).
  Bench bench;
  bench.point(0, 0);
  bench.hand.press(bench.room);
  bench.run(1000);
  bench.point(5, 0);
  bench.run(46);
  const double share = 1.0 - 2.0 * std::exp(-1.0);  // at t = T
  CHECK(bench.hand.pose().x_mm == Approx(5 * share).margin(0.12));
  bench.run(45);
  CHECK(bench.hand.pose().x_mm == Approx(5 * (1 - 3 * std::exp(-2.0))).margin(0.12));
}

TEST_CASE("neither 1.5 m/s nor 15 m/s2 is passed, however the pointer jumps") {
  Bench bench;
  bench.point(-60, 40);
  bench.hand.press(bench.room);
  for (const double x : {60.0, -60.0, 55.0, -20.0}) {
    bench.run(170);
    bench.point(x, -x / 3);
  }
  bench.run(400);
  double before = speed(bench.path[1], bench.path[0]);
  for (std::size_t i = 2; i < bench.path.size(); ++i) {
    const double v = speed(bench.path[i], bench.path[i - 1]);
    CHECK(v <= 1.5 + 1e-9);
    CHECK(std::abs(v - before) <= 0.015 + 0.006);  // the last part of a way is snapped to its end
    before = v;
  }
}

TEST_CASE("what it tells is where it will be when the way of the act is over") {
  Bench bench;
  bench.point(31, 0);
  bench.hand.press(bench.room);
  bench.run(500);
  bench.point(-20, 10);
  const std::size_t from = bench.told.size();
  bench.run(300);
  REQUIRE(bench.told.size() > from + 20);
  for (std::size_t i = from; i + 1 < bench.told.size(); ++i) {
    const auto& move = std::get<act::MoveOccluder>(bench.told[i].second);
    REQUIRE(move.travel_ms == values::kActEveryMs);
    const auto then = static_cast<std::size_t>(bench.told[i].first + move.travel_ms);
    CHECK(move.x_mm == Approx(bench.path[then].x_mm).margin(0.01));
    CHECK(move.y_mm == Approx(bench.path[then].y_mm).margin(0.01));
  }
}

TEST_CASE("at most one act in 8 ms") {
  Bench bench;
  bench.point(31, 0);
  bench.hand.press(bench.room);
  for (int i = 0; i < 200; ++i) {
    bench.point(31 * std::cos(i / 9.0), 10 * std::sin(i / 5.0));
    bench.run(3);
  }
  REQUIRE(bench.told.size() > 40);
  for (std::size_t i = 1; i < bench.told.size(); ++i) {
    CHECK(bench.told[i].first - bench.told[i - 1].first >= 8);
  }
}

TEST_CASE("let go while moving, it leaves that way, let go at rest, it is lowered") {
  struct Way {
    double vx, vy;
    Side side;
  };
  const auto way =
      GENERATE(Way{0, 0.3, Side::above}, Way{0.3, 0, Side::temporal}, Way{-0.3, 0, Side::nasal},
               Way{0, -0.3, Side::below}, Way{0, 0.02, Side::below}, Way{0, 0, Side::below});
  Bench bench;
  bench.point(31, 0);
  bench.hand.press(bench.room);
  bench.run(700);
  for (int i = 0; i < 50; ++i) {  // 50 ms at 0.3 mm per ms
    bench.point(31 + way.vx * i, way.vy * i);
    bench.run(1);
  }
  // The mean is over 80 ms, of which the pointer moved 50.
  bench.hand.release(bench.now);
  CHECK(bench.hand.grip() == Hand::Grip::withdrawing);
  bench.run(1500);
  CHECK(bench.hand.grip() == Hand::Grip::ready);
  CHECK(bench.hand.left_towards() == way.side);
  CHECK(std::holds_alternative<act::Uncover>(bench.told.back().second));
  const act::MoveOccluder& out = bench.last_move();
  if (way.side == Side::above) CHECK(out.y_mm > 70);
  if (way.side == Side::below) CHECK(out.y_mm < -60);
  if (way.side == Side::temporal) CHECK(out.x_mm > 85);
  if (way.side == Side::nasal) CHECK(out.x_mm < -85);  // across the nose and the other eye
}

TEST_CASE("the wheel brings it nearer and farther between 10 and 80 mm, and it rolls") {
  Bench bench;
  bench.point(31, 0);
  bench.hand.press(bench.room);
  bench.run(600);
  bench.hand.change_distance(-4);
  bench.hand.change_roll(15);
  bench.run(600);
  CHECK(-bench.last_move().z_mm - 13.5 == Approx(16).margin(0.01));
  CHECK(bench.last_move().roll_deg == Approx(15).margin(0.1));
  bench.hand.change_distance(-40);
  CHECK(bench.hand.distance_mm() == 10);
  bench.hand.change_distance(400);
  CHECK(bench.hand.distance_mm() == 80);
}

TEST_CASE("left there, it stays while the pointer goes, and is taken back from there") {
  Bench bench;
  bench.point(31, 0);
  bench.hand.press(bench.room);
  bench.run(600);
  bench.hand.leave_there();
  const std::size_t told = bench.told.size();
  bench.point(-60, -40);
  bench.hand.release(bench.now);
  bench.run(600);
  CHECK(bench.told.size() == told);
  CHECK(bench.hand.grip() == Hand::Grip::left_there);
  CHECK(bench.hand.pose().x_mm == Approx(31).margin(0.01));
  bench.hand.press(bench.room);
  bench.run(1);
  CHECK(bench.hand.pose().x_mm == Approx(31).margin(0.1));
  bench.run(800);
  CHECK(bench.last_move().x_mm == Approx(-60).margin(0.01));
}

TEST_CASE("left there in mid-flight, it stops within the way of one act, where the room has it") {
  Bench bench;
  bench.point(31, 0);
  bench.hand.press(bench.room);
  bench.run(120);
  const optics::OccluderPose at = bench.hand.pose();
  REQUIRE(bench.hand.is_moving());
  const double way = speed(bench.path.back(), bench.path[bench.path.size() - 2]);
  bench.hand.leave_there();
  bench.run(300);
  CHECK(speed(bench.hand.pose(), at) <= way * values::kActEveryMs + 0.01);
  CHECK(bench.room.pose.y_mm == Approx(bench.hand.pose().y_mm).margin(0.01));
}

TEST_CASE("the blade stays under the pointer at any distance and lean") {
  Hand hand;
  OccluderState room;
  const PointerRay ray{{-40, 25, -500}, {31, 4, -10.45}};
  hand.point(0, ray);
  hand.set_distance(60);
  hand.press(room);
  for (Tick t = 0; t < 900; ++t) hand.step(t, room);
  // On the line from the examiner's eye through the point that is pointed at.
  const double z = -(13.5 + 60);
  const double share = (z + 500) / (-10.45 + 500);
  CHECK(hand.pose().x_mm == Approx(-40 + share * 71).margin(0.05));
  CHECK(hand.pose().y_mm == Approx(25 + share * -21).margin(0.05));
}
