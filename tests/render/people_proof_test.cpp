// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Each person measures in the picture what it is said to measure, at every scale: between the
// pupils, between the lids, across the iris.
#include <catch2/catch.hpp>

#include "render/face/people.hpp"
#include "tests/render/picture_fixture.hpp"

using namespace redress;
using namespace redress::test;

namespace {

class Sitter {
 public:
  explicit Sitter(const scene::PatientAppearance& look)
      : picture_((studio(), look)), target_(kWidth, kHeight, 1) {}
  draw::Pixels draw(const scene::Scene& s) {
    picture_.draw(s, kWidth, kHeight, target_.framebuffer());
    return draw::read_pixels(target_.framebuffer(), kWidth, kHeight);
  }

 private:
  draw::PatientPicture picture_;
  gl::RenderTarget target_;
};

/// The middle of a pupil near (x, y), however dark its iris is: of the ring by which it widens.
Centroid find_pupil_by_widening(Sitter& sitter, scene::Scene s, std::size_t eye, double x,
                                double y) {
  const double px = s.view.pixels_per_mm;
  s.eyes[eye].pupil_mm = 2.6;
  const draw::Pixels narrow = sitter.draw(s);
  s.eyes[eye].pupil_mm = 4.4;
  const draw::Pixels wide = sitter.draw(s);
  Centroid c{x, y, 0};
  for (const double radius_mm : {3.4, 2.8}) {
    c = find_centroid(wide, c.x, c.y, radius_mm * px, [&](int ix, int iy) {
      return std::max(calc_light(narrow.at(ix, iy)) - calc_light(wide.at(ix, iy)) - 4, 0.0);
    });
  }
  return c;
}

/// Height between the lids under the pupil, mm: what an eye that looks elsewhere changes.
double measure_opening(Sitter& sitter, scene::Scene s, std::size_t eye, double x) {
  const draw::Pixels straight = sitter.draw(s);
  s.eyes[eye].horizontal_deg += 35;
  const draw::Pixels away = sitter.draw(s);
  int top = kHeight;
  int bottom = 0;
  for (int y = 0; y < kHeight; ++y) {
    for (int dx = -2; dx <= 2; ++dx) {
      const int at = static_cast<int>(std::lround(x)) + dx;
      if (straight.at(at, y) == away.at(at, y)) continue;
      top = std::min(top, y);
      bottom = std::max(bottom, y);
    }
  }
  return (bottom - top + 1) / s.view.pixels_per_mm;
}

}  // namespace

TEST_CASE("pupils and lids of each person are as far apart as they are said to be") {
  constexpr double kWetMargins = 0.75;  // of both lids: skin to the examiner, not eye
  for (const char* key : {"finn", "desmond", "edith", "setsuko"}) {
    const face::Person* person = face::find_person(key);
    REQUIRE(person != nullptr);
    const scene::PatientAppearance& who = person->look;
    Sitter sitter(who);
    const double half = 0.5 * static_cast<double>(who.interpupillary_mm);
    scene::Scene both = make_scene(120);
    std::array<double, 2> seen{};
    for (const std::size_t eye : {0U, 1U}) {
      const std::array<double, 2> at = to_pixel(both, eye == 0 ? half : -half, 0);
      seen[eye] = find_pupil_by_widening(sitter, both, eye, at[0], at[1]).x;
    }
    INFO(key << ": " << (seen[1] - seen[0]) / both.view.pixels_per_mm << " of " << 2 * half);
    CHECK((seen[1] - seen[0]) / both.view.pixels_per_mm == Approx(2 * half).margin(0.25));
    for (const double across : {120.0, 45.0}) {
      for (const std::size_t eye : {0U, 1U}) {
        const double x = eye == 0 ? half : -half;
        scene::Scene s = make_scene(across);
        if (across < 100) s.view.centre_x_mm = x;
        const auto said = static_cast<double>(who.upper_margin_mm[eye] - who.ptosis_mm[eye] +
                                              who.lower_margin_mm[eye]);
        INFO(across << " mm across, eye " << eye);
        CHECK(measure_opening(sitter, s, eye, to_pixel(s, x, 0)[0]) ==
              Approx(said - kWetMargins).margin(0.5));
      }
    }
  }
}

TEST_CASE("a drooping lid, eyes set apart and a globe that stands forward are drawn as given") {
  scene::PatientAppearance plain;
  scene::PatientAppearance drooping = plain;
  drooping.ptosis_mm[0] = 2.5F;
  Sitter before(plain);
  Sitter after(drooping);
  const scene::Scene s = make_scene(60);
  scene::Scene right = s;
  right.view.centre_x_mm = 31;
  scene::Scene left = s;
  left.view.centre_x_mm = -31;
  const double middle = 0.5 * kWidth;
  CHECK(measure_opening(before, right, 0, middle) - measure_opening(after, right, 0, middle) ==
        Approx(2.5).margin(0.25));
  CHECK(measure_opening(before, left, 1, middle) ==
        Approx(measure_opening(after, left, 1, middle)).margin(0.05));
  // Telecanthus: the place of the inner canthus is skin now, where the eye was seen.
  scene::PatientAppearance apart = plain;
  apart.telecanthus_mm = 4;
  Sitter wide(apart);
  const auto reach = [&](Sitter& sitter) {  // of what is seen of the eye towards the nose, mm
    scene::Scene m = right;
    const draw::Pixels a = sitter.draw(m);
    m.eyes[0].horizontal_deg = 30;
    const draw::Pixels b = sitter.draw(m);
    int last = 0;
    for (int y = 0; y < kHeight; ++y) {
      for (int x = last + 1; x < kWidth; ++x) {
        if (a.at(x, y) != b.at(x, y)) last = std::max(last, x);
      }
    }
    return (last - middle) / m.view.pixels_per_mm;
  };
  const double shift = reach(before) - reach(wide);
  INFO("telecanthus of 4 mm seen as " << shift);
  CHECK(shift == Approx(4).margin(0.8));
}

TEST_CASE("lids that move in a head held askew leave no hole in the face") {
  for (const scene::HeadPose pose :
       {scene::HeadPose{30, 0, 0}, scene::HeadPose{-30, 0, 0}, scene::HeadPose{0, 25, 0},
        scene::HeadPose{0, -25, 0}, scene::HeadPose{0, 0, 20}, scene::HeadPose{15, 10, -10}}) {
    INFO(pose.roll_deg << " " << pose.turn_deg << " " << pose.chin_deg);
    scene::Scene s = make_scene(160);
    s.head = pose;
    studio().draw(s);
    for (auto& eye : s.eyes) eye.lid_open_fraction = 0.4;
    const draw::Pixels moved = settle(s);
    studio().forget();
    const draw::Pixels whole = settle(s);  // all of it drawn at once
    int differ = 0;
    for (int y = 0; y < kHeight; ++y) {
      for (int x = 0; x < kWidth; ++x) {
        differ += std::abs(calc_light(moved.at(x, y)) - calc_light(whole.at(x, y))) > 3 ? 1 : 0;
      }
    }
    CHECK(differ == 0);
  }
}
