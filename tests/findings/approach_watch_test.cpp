// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// What was measured of a near point, from rows made by hand.
#include "sim/findings/approach_watch.hpp"

#include <catch2/catch.hpp>

using namespace redress;
using namespace redress::findings;

namespace {

/// In and out at this speed, single vision lost nearer than `lost_cm` and regained at `back_cm`.
std::vector<Approach> approach(double speed_cm_per_s, double lost_cm, double back_cm,
                               bool free = true) {
  ApproachWatch watch;
  Observation row;
  Setting setting;
  double cm = 40.0;
  bool lost = false;
  const auto push = [&] {
    ++row.at_ms;
    if (cm < lost_cm) lost = true;
    if (lost && cm > back_cm) lost = false;
    row.fused = !lost;
    setting.distance_m = 0.01 * cm;
    watch.row(row, setting, free);
  };
  for (int i = 0; i < 1000; ++i) push();
  while (cm > 5.0) {
    cm -= 0.001 * speed_cm_per_s;
    push();
  }
  for (int i = 0; i < 1000; ++i) push();
  while (cm < 40.0) {
    cm += 0.001 * speed_cm_per_s;
    push();
  }
  return watch.finish();
}

}  // namespace

TEST_CASE("near point: break, recovery and speed of one approach", "[findings]") {
  const auto found = approach(2.0, 9.0, 13.0);
  REQUIRE(found.size() == 1);
  CHECK(found[0].from_cm == Approx(40.0).margin(0.1));
  CHECK(found[0].closest_cm == Approx(5.0).margin(0.1));
  REQUIRE(found[0].break_cm);
  CHECK(*found[0].break_cm == Approx(9.0).margin(0.1));
  REQUIRE(found[0].recovery_cm);
  CHECK(*found[0].recovery_cm == Approx(13.0).margin(0.1));
  CHECK(found[0].speed_cm_per_s == Approx(2.0).margin(0.1));
}

TEST_CASE("near point: single all the way has no break, covered eyes are no approach",
          "[findings]") {
  const auto single = approach(2.0, 0.0, 0.0);
  REQUIRE(single.size() == 1);
  CHECK_FALSE(single[0].break_cm);
  CHECK(approach(2.0, 9.0, 13.0, false).empty());
}

TEST_CASE("near point: another target put up at near is no approach", "[findings]") {
  ApproachWatch watch;
  Observation row;
  Setting setting;
  for (const double cm : {600.0, 40.0, 33.0, 40.0}) {
    for (int i = 0; i < 2000; ++i) {
      ++row.at_ms;
      setting.distance_m = 0.01 * cm;
      watch.row(row, setting, true);
    }
  }
  CHECK(watch.finish().empty());
}
