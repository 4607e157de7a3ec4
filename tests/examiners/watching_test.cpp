// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Movements read off the face: size, sign, and blinks that are no movements.
#include <catch2/catch.hpp>

#include "sim/examiners/watching.hpp"

using namespace redress;
using namespace redress::examiners;

namespace {

// 2 s of a face: the right eye goes from `from` to `to` at 500 ms, the left one stands at 1 degree.
std::vector<Glance> make_face(Place from, Place to) {
  std::vector<Glance> face;
  for (Tick t = 0; t < 2000; t += kGlanceEveryMs) {
    Glance g;
    g.at_ms = t;
    const Place right = t < 500 ? from : to;
    g.eye.right = {true, right.horizontal_deg, right.vertical_deg, 1.0};
    g.eye.left = {true, 1.0, 0.0, 1.0};
    face.push_back(g);
  }
  return face;
}

}  // namespace

TEST_CASE("An eye that comes out was in, one that comes down was up", "[examiners]") {
  // 100 tan 2 degrees = 3.492.
  CHECK(calc_shown(Eye::right, {0, 0}, {2, 0}).horizontal_pd == Approx(3.4921).margin(1e-4));
  CHECK(calc_shown(Eye::left, {0, 0}, {-2, 0}).horizontal_pd == Approx(3.4921).margin(1e-4));
  CHECK(calc_shown(Eye::right, {0, 0}, {-2, 0}).horizontal_pd == Approx(-3.4921).margin(1e-4));
  CHECK(calc_shown(Eye::right, {0, 0}, {0, -1}).vertical_pd == Approx(1.7455).margin(1e-4));
  CHECK(calc_shown(Eye::left, {0, 0}, {0, -1}).vertical_pd == Approx(-1.7455).margin(1e-4));
}

TEST_CASE("A blink is no movement", "[examiners]") {
  auto face = make_face({0, 0}, {2, 0});
  for (Glance& g : face) {
    if (g.at_ms < 1000 || g.at_ms >= 1300) continue;
    for (const Eye eye : kBothEyes) {
      g.eye[eye].lid_open_fraction = 0.2;
      g.eye[eye].vertical_deg -= 1.5;
    }
  }
  const auto before = find_place(face, Eye::right, 0, 500);
  const auto after = find_place(face, Eye::right, 900, 1500);
  REQUIRE(before);
  REQUIRE(after);
  const Shown shown = calc_shown(Eye::right, *before, *after);
  CHECK(shown.horizontal_pd == Approx(3.4921).margin(1e-4));
  CHECK(shown.vertical_pd == 0.0);
  CHECK_FALSE(find_place(face, Eye::right, 1020, 1280));  // nothing but blink
}

// Lids follow the eye: behind one that hangs, and after an eye that stood high, they fall by more
// than a sixth of how far they stood open, and nobody has blinked.
TEST_CASE("Lids that follow an eye down are no blink", "[examiners]") {
  const auto follow = [](double resting, double vertical_deg) {
    return resting + (vertical_deg > 0.0 ? 0.012 : 0.0085) * vertical_deg;
  };
  auto face = make_face({0, 3}, {11, -5});
  for (Glance& g : face) {
    g.eye.right.lid_open_fraction = follow(0.3, g.eye.right.vertical_deg);
    g.eye.left.vertical_deg = g.at_ms < 500 ? 16 : 0;
    g.eye.left.lid_open_fraction = follow(1.0, g.eye.left.vertical_deg);
  }
  const auto right = find_place(face, Eye::right, 520, 600);
  REQUIRE(right);
  CHECK(right->vertical_deg == -5.0);
  CHECK(find_place(face, Eye::left, 520, 600));
  for (Glance& g : face) {
    if (g.at_ms >= 500) g.eye.right.lid_open_fraction -= 0.1;  // a third of what is left: a blink
  }
  CHECK_FALSE(find_place(face, Eye::right, 520, 600));
}

TEST_CASE("An eye is read as it comes out from behind the cover", "[examiners]") {
  auto face = make_face({-2, 0}, {0, 0});
  for (Glance& g : face) {
    if (g.at_ms < 400) g.eye.right = {.visible = false};
  }
  CHECK(find_appearing(face, Eye::right, 0) == Tick{400});
  const auto place = find_place_on_appearing(face, Eye::right, 0);
  REQUIRE(place);
  CHECK(place->horizontal_deg == -2.0);
  CHECK_FALSE(find_place(face, Eye::right, 0, 400));
  CHECK_FALSE(find_appearing(face, Eye::right, 5000));
}

TEST_CASE("The time at which the eyes have come to rest", "[examiners]") {
  const auto face = make_face({-2, 0}, {0, 0});
  CHECK(find_settling(face, 0, 2000, 1.0) == Tick{500});
  CHECK(find_settling(face, 0, 2000, 5.0) == Tick{0});
  CHECK_FALSE(find_settling({}, 0, 2000, 1.0));
}

TEST_CASE("The middle of several readings is not moved by one that went wrong", "[examiners]") {
  CHECK(find_middle(std::vector<double>{1, 2, 40}) == 2.0);
  CHECK(find_middle(std::vector<double>{1, 3}) == 2.0);
  CHECK(find_middle(std::vector<double>{}) == 0.0);
}
