// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// What tells glass from a hole: the fringe of colours at an edge seen through a strong prism, and
// the power that is engraved on it.
#include <catch2/catch.hpp>

#include "tests/render/picture_fixture.hpp"

using namespace redress;
using namespace redress::test;

namespace {

constexpr double kAbbe = 57;  // of acrylic

scene::Prism make_prism(double power_pd, double base_deg) {
  scene::Prism p;
  p.eye = scene::Eye::kRight;
  p.steps = {{power_pd, power_pd / 100 / 0.49 * 57.29577951308232}};
  p.base_deg = base_deg;
  p.back_centre_mm = {31, 0, -27};
  return p;
}

/// Where a pupil is seen in one of the three colours near a place, pixels: the ring by which it
/// widens.
double find_in_colour(scene::Scene s, double x, double y, std::size_t colour) {
  s.eyes[0].pupil_mm = 3.0;
  const draw::Pixels narrow = studio().draw(s);
  s.eyes[0].pupil_mm = 4.6;
  const draw::Pixels wide = studio().draw(s);
  Centroid c{x, y, 0};
  for (int k = 0; k < 5; ++k) {
    c = find_centroid(wide, c.x, c.y, 3.2 * s.view.pixels_per_mm, [&](int ix, int iy) {
      return std::max(int{narrow.at(ix, iy)[colour]} - int{wide.at(ix, iy)[colour]} - 6, 0) * 1.0;
    });
  }
  return c.x;
}

}  // namespace

TEST_CASE("a strong prism parts blue from red by its dispersion, and a bare eye shows no fringe") {
  scene::Scene s = make_scene(60);
  s.view.centre_x_mm = 31;
  const std::array<double, 2> home = to_pixel(s, 31, 0);
  const double red = find_in_colour(s, home[0], home[1], 0);
  const double blue = find_in_colour(s, home[0], home[1], 2);
  for (const double base_deg : {0.0, 180.0}) {
    s.prisms = {make_prism(40, base_deg)};
    const double to_apex = base_deg == 0.0 ? -1 : 1;
    const double near = home[0] + to_apex * 11 * s.view.pixels_per_mm;
    const double red_seen = find_in_colour(s, near, home[1], 0);
    const double blue_seen = find_in_colour(s, near, home[1], 2);
    const double moved = to_apex * 0.5 * ((red_seen - red) + (blue_seen - blue));
    const double apart = to_apex * ((blue_seen - blue) - (red_seen - red));
    INFO("moved " << moved << " px, blue further by " << apart << ", by dispersion "
                  << moved / kAbbe);
    CHECK(moved > 0);
    // The deviation of blue and red differs by 1/V of it (definition of the Abbe number).
    CHECK(apart == Approx(moved / kAbbe).epsilon(0.35));
  }
}

TEST_CASE("each power is engraved on its prism, away from the eye") {
  scene::Scene s = make_scene();
  const double px = s.view.pixels_per_mm;
  const std::array<double, 2> eye = to_pixel(s, 31, 0);
  const auto engrave = [&s](double label_pd) {
    s.prisms = {make_prism(12, 0)};
    s.prisms[0].steps[0].label_pd = label_pd;
    return studio().draw(s);
  };
  const draw::Pixels none = engrave(0);
  const draw::Pixels twelve = engrave(12);
  const draw::Pixels thirty = engrave(30);
  const auto everywhere = [](int, int) { return true; };
  const auto on_eye = [&](int x, int y) { return std::hypot(x - eye[0], y - eye[1]) < 9 * px; };
  CHECK(count_differences(none, twelve, everywhere) > 3 * px);
  CHECK(count_differences(none, twelve, everywhere) < 40 * px * px);
  CHECK(count_differences(twelve, thirty, everywhere) > 2 * px);
  CHECK(count_differences(none, twelve, on_eye) == 0);
}
