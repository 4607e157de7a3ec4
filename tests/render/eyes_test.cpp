// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// What an examiner measures by eye must be true in the pixels: how far a pupil moves, how a glint
// lies in it, which eye is which.
#include <catch2/catch.hpp>

#include "tests/render/picture_fixture.hpp"

using namespace redress;
using namespace redress::test;

namespace {

Centroid find_right_pupil(const scene::Scene& s, double guess_mm = 0) {
  const std::array<double, 2> at = to_pixel(s, 31 + guess_mm, 0);
  return find_pupil(studio().draw(s), at[0], at[1], s.view.pixels_per_mm);
}

}  // namespace

TEST_CASE("a pupil moves in proportion to its rotation, from a quarter of a dioptre on") {
  scene::Scene s = make_close_scene();
  const Centroid straight = find_right_pupil(s);
  // 11.75 mm from where the eye turns horizontally to the entrance pupil; seen a little aslant
  // because of angle kappa, so the two directions differ by a few per cent.
  const double geometric = 11.75 * s.view.pixels_per_mm * 3.14159265358979 / 180;
  for (const double sign : {1.0, -1.0}) {
    std::vector<std::array<double, 2>> moves;  // degrees, pixels
    double xy = 0;
    double xx = 0;
    for (const double pd : {0.25, 0.5, 1.0, 2.0, 4.0, 8.0, 12.0, 20.0}) {
      const double degrees = to_degrees(pd);
      s.eyes[0].horizontal_deg = sign * degrees;
      const double moved = sign * (straight.x - find_right_pupil(s, sign * pd * 0.117).x);
      moves.push_back({degrees, moved});
      xy += moved / degrees;
      xx += 1;
    }
    const double slope = xy / xx;
    CHECK(slope / geometric == Approx(1).margin(0.05));
    for (const std::array<double, 2>& m : moves) {
      const double off = std::abs(m[1] - slope * m[0]);
      INFO(sign * m[0] << " degrees moved it by " << m[1] << " px, not " << slope * m[0]);
      CHECK(off < std::max(0.02 * slope * m[0], 0.05));
    }
  }
}

TEST_CASE("a gaze up raises the pupil, a gaze to the patient's right takes it to the left") {
  scene::Scene s = make_close_scene();
  const Centroid straight = find_right_pupil(s);
  s.eyes[0] = {to_degrees(4), to_degrees(4), 0, 3.5, 1};
  const Centroid moved = find_right_pupil(s, 0.4);
  CHECK(moved.x < straight.x - 2);
  CHECK(moved.y < straight.y - 2);
}

TEST_CASE("glint against pupil moves one millimetre for 20 to 22 prism dioptres") {
  scene::Scene s = make_close_scene();
  const auto offset_mm = [&s](double pd) {
    s.eyes[0].horizontal_deg = to_degrees(pd) - to_degrees(100 * 31.0 / 600);
    s.light.penlight = false;
    const draw::Pixels dark = studio().draw(s);
    const std::array<double, 2> at = to_pixel(s, 31 + 0.1 * pd - 0.55, 0);
    const Centroid pupil = find_pupil(dark, at[0], at[1], s.view.pixels_per_mm);
    s.light.penlight = true;
    s.light.penlight_mm = {0, 0, -600};
    const draw::Pixels lit = studio().draw(s);
    const Centroid glint =
        find_centroid(lit, pupil.x, pupil.y, 2.5 * s.view.pixels_per_mm, [&](int x, int y) {
          return std::max(calc_light(lit.at(x, y)) - calc_light(dark.at(x, y)) - 60, 0.0);
        });
    REQUIRE(glint.weight > 0);
    return (pupil.x - glint.x) / s.view.pixels_per_mm;
  };
  const double per_mm = 16 / (offset_mm(-8) - offset_mm(8));
  INFO(std::abs(per_mm) << " prism dioptres per mm");
  CHECK(std::abs(per_mm) > 20);
  CHECK(std::abs(per_mm) < 22);
  // Looking at the light, the glint lies nasally by angle kappa: to the right in a right eye.
  const double rest = offset_mm(0);
  INFO("nasal by " << -rest << " mm");
  CHECK(-rest > 0.3);
  CHECK(-rest < 0.6);
}

TEST_CASE("the patient's right eye is on the left of the picture") {
  const scene::Scene open = make_scene();
  scene::Scene shut = open;
  shut.eyes[0].lid_open_fraction = 0;
  const draw::Pixels a = studio().draw(open);
  const draw::Pixels b = studio().draw(shut);
  CHECK(count_differences(a, b, [](int x, int) { return x < kWidth / 2; }) > 1000);
  CHECK(count_differences(a, b, [](int x, int) { return x >= kWidth / 2; }) == 0);
}

TEST_CASE("the caruncle is on the side of the nose in both eyes") {
  const scene::Scene s = make_scene();
  const draw::Pixels p = studio().draw(s);
  const auto redness = [&](double x_mm) {
    double red = 0;
    double green = 0;
    for (int dy = -3; dy <= 3; ++dy) {
      for (int dx = -3; dx <= 3; ++dx) {
        const std::array<double, 2> at = to_pixel(s, x_mm, -1.2);
        const auto q = p.at(static_cast<int>(at[0]) + dx, static_cast<int>(at[1]) + dy);
        red += q[0];
        green += q[1];
      }
    }
    return red / green;
  };
  for (const double sign : {1.0, -1.0}) {  // right eye, left eye
    const double nasal = redness(sign * (31 - 11.5));
    const double temporal = redness(sign * (31 + 9.5));
    INFO("eye at " << sign * 31 << " mm: nasal " << nasal << ", temporal " << temporal);
    CHECK(nasal > temporal + 0.15);
  }
}

TEST_CASE("eyes that move by up to 20 dioptres change no pixel outside themselves") {
  scene::Scene s = make_scene();
  const draw::Pixels straight = studio().draw(s);
  const auto outside = [&s](int x, int y) {
    for (const double eye : {31.0, -31.0}) {
      const std::array<double, 2> at = to_pixel(s, eye, 0);
      if (std::abs(x - at[0]) < 17 * s.view.pixels_per_mm &&
          std::abs(y - at[1]) < 9 * s.view.pixels_per_mm) {
        return false;
      }
    }
    return true;
  };
  for (const double pd : {1.0, 8.0, 20.0}) {
    s.eyes[0].horizontal_deg = to_degrees(pd);
    s.eyes[1].horizontal_deg = -to_degrees(pd);
    s.eyes[1].torsion_deg = 5;
    const draw::Pixels moved = studio().draw(s);
    CHECK(count_differences(straight, moved, outside) == 0);
    CHECK(count_differences(straight, moved, [](int, int) { return true; }) > 50);
  }
}

TEST_CASE("torsion turns the iris, not the pupil") {
  scene::Scene s = make_close_scene();
  const draw::Pixels upright = studio().draw(s);
  const Centroid before = find_right_pupil(s);
  s.eyes[0].torsion_deg = 8;
  const draw::Pixels turned = studio().draw(s);
  const Centroid after = find_right_pupil(s);
  CHECK(count_differences(upright, turned, [](int, int) { return true; }) > 2000);
  CHECK(std::hypot(after.x - before.x, after.y - before.y) < 3.2);  // kappa carries it 0.14 mm
  // Top to the patient's right, the left of the picture.
  CHECK((face::calc_eye_rotation(s.eyes[0], 0, 0) * glm::vec3(0, 1, 0)).x < -0.1F);
}

TEST_CASE("a blink closes fully") {
  scene::Scene s = make_close_scene();
  s.eyes[0].lid_open_fraction = 0;
  const draw::Pixels shut = studio().draw(s);
  s.eyes[0] = {15, -4, 3, 6, 0};
  const draw::Pixels elsewhere = studio().draw(s);
  CHECK(shut == elsewhere);
  int holes = 0;
  for (int y = 0; y < kHeight; ++y) {
    for (int x = 0; x < kWidth; ++x) {
      if (calc_light(shut.at(x, y)) < 8) ++holes;
    }
  }
  CHECK(holes == 0);
}

TEST_CASE("the upper lid follows the gaze down") {
  scene::Scene s = make_close_scene();
  const draw::Pixels straight = studio().draw(s);
  s.eyes[0].vertical_deg = -30;
  const draw::Pixels down = studio().draw(s);
  // Where the upper lid's margin was, 3 mm above the pupil, is skin now: lighter and redder.
  const std::array<double, 2> at = to_pixel(s, 31, 3.0);
  const auto x = static_cast<int>(at[0]);
  const auto y = static_cast<int>(at[1]);
  CHECK(down.at(x, y)[0] > straight.at(x, y)[0] + 30);
}

TEST_CASE("a picture does not depend on the pictures before it") {
  const scene::Scene s = make_scene();
  studio().forget();
  const draw::Pixels fresh = studio().draw(s);
  scene::Scene other = s;
  other.eyes[0].lid_open_fraction = 0.2;
  other.eyes[1].vertical_deg = -25;
  other.occluder.present = true;
  other.occluder.centre_mm = {10, 5, -40};
  other.prisms.emplace_back();
  other.prisms.back().eye = scene::Eye::kLeft;
  other.prisms.back().steps = {{8, 9.4}};
  other.prisms.back().back_centre_mm = {-31, 0, -27};
  studio().draw(other);
  CHECK(studio().draw(s) == fresh);
  other.light.room = 0.4;
  other.head.turn_deg = 10;
  studio().draw(other);
  CHECK(studio().draw(s) == fresh);
}

TEST_CASE("a framebuffer without sRGB encoding, such as a window's, gets the same bytes") {
  const scene::Scene s = make_scene();
  CHECK(studio().draw_plain(s) == studio().draw(s));
}

TEST_CASE("the driver has nothing to say about any of it") {
  const std::vector<std::string> messages = studio().check_messages();
  for (const std::string& m : messages) UNSCOPED_INFO(m);
  CHECK(messages.empty());
}
