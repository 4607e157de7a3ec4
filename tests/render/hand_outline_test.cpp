// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Occluder, handle and hand as they are drawn against what the engine takes from the practitioner's
// view: the same eye is hidden at the same places.
#include <catch2/catch.hpp>

#include <vector>

#include "sim/optics/sight.hpp"
#include "sim/room/holding_hand.hpp"
#include "tests/render/picture_fixture.hpp"

using namespace redress;
using namespace redress::test;

namespace {

constexpr double kBladeMarginMm =
    2.6;                               // of its side's thickness, and of the disc that is looked at
constexpr double kHandMarginMm = 7.5;  // rounded fingers, and a right hand and a left one in one
constexpr double kDiscMm = 1.4;

/// How much of the pupil's middle shows: of pixels that change as the eye turns away, 0..1.
double find_shown(scene::Scene s, double x_mm, double y_mm) {
  const std::array<double, 2> at = to_pixel(s, x_mm, y_mm);
  const draw::Pixels straight = studio().draw(s);
  s.eyes[0].horizontal_deg = 28;
  const draw::Pixels aside = studio().draw(s);
  int all = 0;
  int changed = 0;
  const double radius = kDiscMm * s.view.pixels_per_mm;
  for (int y = 0; y < kHeight; ++y) {
    for (int x = 0; x < kWidth; ++x) {
      if (std::hypot(x - at[0], y - at[1]) > radius) continue;
      ++all;
      if (straight.at(x, y) != aside.at(x, y)) ++changed;
    }
  }
  return all == 0 ? 0.0 : static_cast<double>(changed) / all;
}

}  // namespace

TEST_CASE("an eye is hidden in the picture when and only when the engine counts it as hidden") {
  constexpr double kHalfMm = 31;
  const Vector viewpoint{0, 0, -600};
  const Vector pupil = optics::entrance_pupil(
      optics::centre_of_rotation(Eye::right, Millimetres{2 * kHalfMm}), {0, 0, -1});
  std::vector<optics::OccluderPose> poses;
  for (const double roll_deg : {0.0, -20.0}) {
    for (double x = -34; x <= 100; x += 19.3) {
      for (double y = -60; y <= 190; y += 17.1) poses.push_back({x, y, -33, roll_deg});
    }
  }
  // A mouse that lifts it near the midline: where hand and handle come before the eye.
  for (double x = -14; x <= 24; x += 7.3) {
    for (double y = 46; y <= 160; y += 8.7) poses.push_back({x, y, -33, 0});
  }
  int hidden = 0;
  int by_hand = 0;
  int free = 0;
  for (const optics::OccluderPose& pose : poses) {
    const double blade = optics::clearance(pose, pupil, viewpoint);
    const double held = held_clearance(pose, pupil, viewpoint);
    const bool is_hidden = blade < -kBladeMarginMm || held < -kHandMarginMm;
    const bool is_free = blade > kBladeMarginMm && held > kHandMarginMm;
    if (!is_hidden && !is_free) continue;
    scene::Scene s = make_scene(130);
    s.occluder.present = true;
    s.occluder.centre_mm = {pose.x_mm, pose.y_mm, pose.z_mm};
    s.occluder.roll_deg = pose.roll_deg;
    s.occluder.handle_deg = handle_lean_deg(pose);
    for (const bool left_hand : {false, true}) {
      s.occluder.left_hand = left_hand;
      const double shown = find_shown(s, kHalfMm, 0);
      INFO("blade at " << pose.x_mm << ", " << pose.y_mm << ", roll " << pose.roll_deg
                       << ", left hand " << left_hand << ": blade " << blade << " mm, hand " << held
                       << " mm, shown " << shown);
      CHECK(shown == Approx(is_hidden ? 0.0 : 1.0).margin(0.03));
      (is_hidden ? hidden : free) += 1;
      if (is_hidden && blade > 0) ++by_hand;
    }
  }
  CHECK(hidden > 60);
  CHECK(by_hand > 30);
  CHECK(free > 100);
}
