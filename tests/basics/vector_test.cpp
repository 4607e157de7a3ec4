// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Vectors, rotations and gaze angles; the signs of sim/basics/eye.hpp.
#include "sim/basics/vector.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <rapidcheck/catch.h>

using namespace redress;

namespace {

constexpr double kTight = 4e-15;  // a few roundings of numbers near 1

const Vector kRight{1, 0, 0};
const Vector kUp{0, 1, 0};
const Vector kAhead{0, 0, -1};

double distance(Vector a, Vector b) { return length(a - b); }

double largest_difference(const Rotation& a, const Rotation& b) {
  return std::max({distance(a.row_x, b.row_x), distance(a.row_y, b.row_y),
                   distance(a.row_z, b.row_z)});
}

double determinant(const Rotation& r) { return dot(r.row_x, cross(r.row_y, r.row_z)); }

Vector any_direction() {
  // From a grid of whole numbers, without the origin.
  const auto component = rc::gen::inRange(-1000, 1001);
  Vector v{};
  do {
    v = {static_cast<double>(*component), static_cast<double>(*component),
         static_cast<double>(*component)};
  } while (v == Vector{});
  return normalised(v);
}

Degrees any_angle(int limit_deg) {
  return Degrees{*rc::gen::inRange(-limit_deg * 1000, limit_deg * 1000 + 1) * 1e-3};
}

}  // namespace

TEST_CASE("the arithmetic of vectors") {
  const Vector a{1, 2, 3};
  const Vector b{-4, 0.5, 2};
  REQUIRE(a + b == Vector{-3, 2.5, 5});
  REQUIRE(a - b == Vector{5, 1.5, 1});
  REQUIRE(-a == Vector{-1, -2, -3});
  REQUIRE(2.0 * a == Vector{2, 4, 6});
  REQUIRE(a * 2.0 == Vector{2, 4, 6});
  REQUIRE(dot(a, b) == 3.0);
  REQUIRE(length(Vector{2, 3, 6}) == 7.0);
  REQUIRE(normalised(Vector{0, 0, -5}) == kAhead);
  // Right-handed: x cross y is z.
  REQUIRE(cross(Vector{1, 0, 0}, Vector{0, 1, 0}) == Vector{0, 0, 1});
  REQUIRE(dot(cross(a, b), a) == 0.0);
}

TEST_CASE("a turn about an axis is right-handed") {
  REQUIRE(distance(rotation_about({0, 0, 1}, Degrees{90}) * kRight, kUp) < kTight);
  REQUIRE(distance(rotation_about({0, 1, 0}, Degrees{90}) * Vector{0, 0, 1}, kRight) < kTight);
  REQUIRE(distance(rotation_about({1, 0, 0}, Degrees{90}) * kUp, {0, 0, 1}) < kTight);
}

TEST_CASE("rotations are proper, and what they are said to be") {
  rc::prop("rows are orthonormal and right-handed, the axis stays, the transpose is inverse", [] {
    const Vector axis = any_direction();
    const Degrees angle = any_angle(360);
    const Rotation r = rotation_about(axis, angle);
    RC_ASSERT(largest_difference(r * transposed(r), Rotation{}) < kTight);
    RC_ASSERT(std::fabs(determinant(r) - 1.0) < kTight);
    RC_ASSERT(distance(r * axis, axis) < kTight);
    RC_ASSERT(largest_difference(rotation_about(axis, -angle), transposed(r)) < kTight);
  });
  rc::prop("two turns about one axis add", [] {
    const Vector axis = any_direction();
    const Degrees a = any_angle(180);
    const Degrees b = any_angle(180);
    RC_ASSERT(largest_difference(rotation_about(axis, a) * rotation_about(axis, b),
                                 rotation_about(axis, a + b)) < kTight);
  });
  rc::prop("a product turns as one after the other", [] {
    const Rotation a = rotation_about(any_direction(), any_angle(180));
    const Rotation b = rotation_about(any_direction(), any_angle(180));
    const Vector v = any_direction();
    RC_ASSERT(distance((a * b) * v, a * (b * v)) < kTight);
  });
}

TEST_CASE("the rotation between two directions takes the short way") {
  rc::prop("from arrives at to, and the axis is at right angles to both", [] {
    const Vector from = any_direction();
    const Vector to = any_direction();
    RC_PRE(dot(from, to) > -0.999);
    const Rotation r = rotation_between(from, to);
    RC_ASSERT(distance(r * from, to) < 1e-13);  // near opposite, the axis is known less well
    const Vector axis = cross(from, to);
    RC_ASSERT(distance(r * axis, axis) < 1e-13);
    RC_ASSERT(std::fabs(determinant(r) - 1.0) < 1e-12);
  });
  REQUIRE(rotation_between(kAhead, kAhead) == Rotation{});
}

TEST_CASE("gaze is + to the patient's right and + up") {
  REQUIRE(gaze_angles(kAhead) == GazeAngles{});
  REQUIRE(gaze_angles({1, 0, -1}).horizontal.value == Approx(45.0));
  REQUIRE(gaze_angles({-1, 0, -1}).horizontal.value == Approx(-45.0));
  REQUIRE(gaze_angles({0, 1, -1}).vertical.value == Approx(45.0));
  REQUIRE(gaze_angles({0, -1, -1}).vertical.value == Approx(-45.0));
  // The vertical angle is asin(d.y): for (1, 1, -1) it is atan(1/sqrt 2), not 45 degrees.
  REQUIRE(gaze_angles({1, 1, -1}).vertical.value ==
          Approx(std::asin(1.0 / std::sqrt(3.0)) * 180.0 / elementary::kPi));
  REQUIRE(line_of_sight({Degrees{10}, Degrees{0}}).x > 0.0);
  REQUIRE(line_of_sight({Degrees{0}, Degrees{10}}).y > 0.0);
  REQUIRE(line_of_sight({}) == kAhead);
}

TEST_CASE("angles and line of sight are each other's inverse and mirror exactly") {
  rc::prop("there and back; the mirrored direction has the mirrored angle to the bit", [] {
    const GazeAngles angles{any_angle(80), any_angle(80)};
    const Vector d = line_of_sight(angles);
    RC_ASSERT(std::fabs(length(d) - 1.0) < kTight);
    const GazeAngles back = gaze_angles(d * 4.0);  // any length will do
    RC_ASSERT(std::fabs((back.horizontal - angles.horizontal).value) < 1e-12);
    RC_ASSERT(std::fabs((back.vertical - angles.vertical).value) < 1e-12);
    const Vector mirrored = line_of_sight({-angles.horizontal, angles.vertical});
    RC_ASSERT(mirrored == (Vector{-d.x, d.y, d.z}));
    RC_ASSERT(gaze_angles(mirrored).horizontal == -gaze_angles(d).horizontal);
  });
}

TEST_CASE("a head rolls to the right shoulder, turns to the right and lifts its chin") {
  const Degrees none{};
  const Vector top = head_rotation(Degrees{20}, none, none) * kUp;
  REQUIRE(top.x == Approx(std::sin(20 * elementary::kRadiansPerDegree)));
  REQUIRE(top.y > 0.0);
  const Vector turned = head_rotation(none, Degrees{20}, none) * kAhead;
  REQUIRE(gaze_angles(turned).horizontal.value == Approx(20.0));
  const Vector lifted = head_rotation(none, none, Degrees{20}) * kAhead;
  REQUIRE(gaze_angles(lifted).vertical.value == Approx(20.0));
  REQUIRE(largest_difference(head_rotation(none, none, none), Rotation{}) == 0.0);
}

TEST_CASE("head posture is chin first, then turn, then roll, about the upright head's axes") {
  // A chin lifted by 90 degrees looks at the ceiling; the turn about the upright axis leaves the
  // line there, the roll takes it to the right.
  const Vector looked =
      head_rotation(Degrees{90}, Degrees{30}, Degrees{90}) * kAhead;
  REQUIRE(distance(looked, kRight) < kTight);
  const Rotation whole = head_rotation(Degrees{7}, Degrees{-12}, Degrees{5});
  const Rotation parts = rotation_about({0, 0, -1}, Degrees{7}) *
                         (rotation_about({0, -1, 0}, Degrees{-12}) *
                          rotation_about({1, 0, 0}, Degrees{5}));
  REQUIRE(largest_difference(whole, parts) < kTight);
}
