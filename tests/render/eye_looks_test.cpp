// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// What is said of an eye is seen of it: arcus, limbal ring, redness; and its vessels turn with it.
#include <catch2/catch.hpp>

#include <functional>
#include <vector>

#include "tests/render/picture_fixture.hpp"

using namespace redress;
using namespace redress::test;

namespace {

using Change = std::function<void(scene::PatientAppearance&)>;

/// The right eye of a person who is changed so.
draw::Pixels draw_eye(const Change& change, const scene::Scene& s) {
  studio();  // the context
  static const gl::RenderTarget target(kWidth, kHeight, 1);
  scene::PatientAppearance who;
  change(who);
  draw::PatientPicture picture(who);
  picture.draw(s, kWidth, kHeight, target.framebuffer());
  return draw::read_pixels(target.framebuffer(), kWidth, kHeight);
}

/// Mean of what `value` gives over the part of a ring about the pupil that lies within `half_deg`
/// of `towards_deg` (0 to the picture's right, 90 up); mm.
double calc_mean(const draw::Pixels& p, const scene::Scene& s, std::array<double, 2> radii,
                 double towards_deg, double half_deg,
                 const std::function<double(std::array<std::uint8_t, 3>)>& value) {
  const std::array<double, 2> at = to_pixel(s, 31, 0);
  double sum = 0;
  int count = 0;
  for (int y = 0; y < kHeight; ++y) {
    for (int x = 0; x < kWidth; ++x) {
      const double dx = (x - at[0]) / s.view.pixels_per_mm;
      const double dy = (at[1] - y) / s.view.pixels_per_mm;
      const double r = std::hypot(dx, dy);
      if (r < radii[0] || r > radii[1]) continue;
      double off = std::atan2(dy, dx) * 57.29577951308232 - towards_deg;
      off = std::abs(std::remainder(off, 360.0));
      if (off > half_deg) continue;
      sum += value(p.at(x, y));
      ++count;
    }
  }
  REQUIRE(count > 50);
  return sum / count;
}

double calc_red(std::array<std::uint8_t, 3> c) { return 1.0 * c[0] - c[1]; }

}  // namespace

TEST_CASE("an arcus pales the iris inside the limbus, below and all round, and no more") {
  const scene::Scene s = make_close_scene();
  const draw::Pixels young = draw_eye([](auto& who) { who.arcus = 0; }, s);
  const draw::Pixels old = draw_eye([](auto& who) { who.arcus = 1; }, s);
  for (const double towards : {-90.0, -150.0, -30.0}) {
    const auto light = [&](const draw::Pixels& p, double from, double to) {
      return calc_mean(p, s, {from, to}, towards, 18, calc_light);
    };
    INFO("towards " << towards);
    CHECK(light(old, 4.5, 5.3) - light(young, 4.5, 5.3) > 8);
    CHECK(light(old, 2.2, 3.6) == Approx(light(young, 2.2, 3.6)).margin(2));
  }
}

TEST_CASE("a limbal ring darkens the edge of the iris alone") {
  const scene::Scene s = make_close_scene();
  const draw::Pixels none = draw_eye([](auto& who) { who.limbal_ring = 0; }, s);
  const draw::Pixels full = draw_eye([](auto& who) { who.limbal_ring = 1; }, s);
  const auto light = [&](const draw::Pixels& p, double from, double to) {
    return calc_mean(p, s, {from, to}, -60, 40, calc_light);
  };
  CHECK(light(none, 4.9, 5.5) - light(full, 4.9, 5.5) > 3);
  CHECK(light(full, 2.2, 3.6) == Approx(light(none, 2.2, 3.6)).margin(2));
}

TEST_CASE("a red eye is redder in its white, and its iris is not") {
  const scene::Scene s = make_close_scene();
  const draw::Pixels calm = draw_eye([](auto& who) { who.redness = 0; }, s);
  const draw::Pixels red = draw_eye([](auto& who) { who.redness = 1; }, s);
  for (const double towards : {0.0, 180.0}) {
    const auto redness = [&](const draw::Pixels& p, double from, double to) {
      return calc_mean(p, s, {from, to}, towards, 12, calc_red);
    };
    CHECK(redness(red, 7.2, 9.5) - redness(calm, 7.2, 9.5) > 3);
    CHECK(redness(red, 2.5, 4.5) == Approx(redness(calm, 2.5, 4.5)).margin(2));
  }
}

TEST_CASE("vessels turn with the globe, sideways and about its own axis") {
  scene::Scene s = make_close_scene();
  const double px = s.view.pixels_per_mm;
  const std::array<double, 2> at = to_pixel(s, 31, 0);
  studio();
  const gl::RenderTarget target(kWidth, kHeight, 1);
  scene::PatientAppearance who;
  who.redness = 1;
  draw::PatientPicture picture(who);
  // Fine structure of the white on the temporal side, the picture's left: green less its own mean
  // round about.
  const auto structure = [&](int x, int y, const draw::Pixels& p) {
    constexpr int kRound = 8;
    double mean = 0;
    for (int dy = -kRound; dy <= kRound; dy += 2) {
      for (int dx = -kRound; dx <= kRound; dx += 2) mean += p.at(x + dx, y + dy)[1];
    }
    constexpr int kSide = kRound + 1;
    return p.at(x, y)[1] - mean / (kSide * kSide);
  };
  const auto draw = [&] {
    picture.draw(s, kWidth, kHeight, target.framebuffer());
    return draw::read_pixels(target.framebuffer(), kWidth, kHeight);
  };
  // By how many pixels the structure went to the right or down.
  const auto find_shift = [&](const draw::Pixels& a, const draw::Pixels& b, bool down) {
    double best = -1e300;
    int found = 0;
    for (int shift = -40; shift <= 40; ++shift) {
      double sum = 0;
      for (int y = static_cast<int>(at[1] - 1.8 * px); y < at[1] + 1.8 * px; ++y) {
        for (int x = static_cast<int>(at[0] - 9.4 * px); x < at[0] - 7.6 * px; ++x) {
          sum += structure(x, y, a) * structure(x + (down ? 0 : shift), y + (down ? shift : 0), b);
        }
      }
      if (sum > best) {
        best = sum;
        found = shift;
      }
    }
    return found;
  };
  const double kMarginPx = 0.2 * px;  // the shade of the lids stands still
  const draw::Pixels straight = draw();
  // 8.5 mm from the axis, 5 degrees are 0.74 mm: the top goes to the patient's right, the picture's
  // left, and the temporal side down.
  s.eyes[0].torsion_deg = 5;
  CHECK(find_shift(straight, draw(), true) ==
        Approx(8.5 * std::sin(5 / 57.3) * px).margin(kMarginPx));
  s.eyes[0].torsion_deg = -5;
  CHECK(find_shift(straight, draw(), true) ==
        Approx(-8.5 * std::sin(5 / 57.3) * px).margin(kMarginPx));
  // A globe of 12.2 mm, 8.5 mm from the axis: 4 degrees move what is there by 0.6 mm.
  s.eyes[0].torsion_deg = 0;
  s.eyes[0].horizontal_deg = -4;
  const double before = std::asin(8.5 / 12.2);
  const double moved = 8.5 - 12.2 * std::sin(before - 4 / 57.3);
  CHECK(find_shift(straight, draw(), false) == Approx(moved * px).margin(kMarginPx));
}

TEST_CASE("a lid that is down lies in furrows along it, an old one in deeper ones") {
  // How much more the light changes over 0.6 mm up the lid than along it.
  const auto find_furrows = [](float wrinkles, double up_deg) {
    scene::Scene s = make_close_scene();
    s.view.centre_y_mm = 4;
    for (scene::EyePose& e : s.eyes) e.vertical_deg = up_deg;
    const draw::Pixels p = draw_eye([&](auto& who) { who.wrinkles = wrinkles; }, s);
    const double px = s.view.pixels_per_mm;
    const int step = static_cast<int>(0.6 * px);
    const double lid_mm = up_deg < 0 ? 0.5 : 9.0;  // over the margin, under the fold; above it
    double up = 0;
    double along = 0;
    const std::array<double, 2> at = to_pixel(s, 31, lid_mm + 2.0);
    for (int y = static_cast<int>(at[1] - 1.5 * px); y < at[1] + 1.5 * px; ++y) {
      for (int x = static_cast<int>(at[0] - 4 * px); x < at[0] + 4 * px; ++x) {
        const auto bend = [&](int dx, int dy) {
          return std::abs(calc_light(p.at(x + dx, y + dy)) + calc_light(p.at(x - dx, y - dy)) -
                          2 * calc_light(p.at(x, y)));
        };
        up += bend(0, step);
        along += bend(step, 0);
      }
    }
    return up / along;
  };
  const double young = find_furrows(0.0F, -28);
  const double old = find_furrows(0.8F, -28);
  INFO("young " << young << ", old " << old << ", young and open " << find_furrows(0.0F, 0));
  CHECK(young > 1.3 * find_furrows(0.0F, 0));
  CHECK(old > 1.2 * young);
}
