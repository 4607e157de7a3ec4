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

TEST_CASE("A lid that comes down with the eye is no blink", "[examiners]") {
  // The eye comes down from where its fellow's palsy had driven it up: its lid follows it, and
  // stays.
  auto face = make_face({-12, 16}, {0, 0});
  for (Glance& g : face) g.eye.right.lid_open_fraction = g.at_ms < 500 ? 1.2 : 1.0;
  const auto bared = find_place_on_appearing(face, Eye::right, 400);
  const auto settled = find_place(face, Eye::right, 700, 1500);
  REQUIRE(bared);
  REQUIRE(settled);
  CHECK(bared->vertical_deg == 16.0);
  CHECK(settled->vertical_deg == 0.0);
  const auto moving = find_place(face, Eye::right, 500, 600);
  REQUIRE(moving);  // nothing of it is left out
  CHECK(moving->vertical_deg == 0.0);
}

TEST_CASE("A blink at the end of what has been watched is left out as well", "[examiners]") {
  auto face = make_face({0, 0}, {0, 0});
  for (Glance& g : face) {
    if (g.at_ms < 1800) continue;
    for (const Eye eye : kBothEyes) g.eye[eye] = {true, 0.0, -1.5, 0.1};
  }
  const auto place = find_place(face, Eye::right, 1500, 2000);
  REQUIRE(place);
  CHECK(place->vertical_deg == 0.0);
  CHECK_FALSE(find_place(face, Eye::right, 1800, 2000));
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
