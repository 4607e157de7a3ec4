// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Rotations and gaze angles against Eigen, an independent library, over many drawn angles.
#include "sim/basics/vector.hpp"

#include <cmath>
#include <cstdint>

#include <Eigen/Geometry>
#include <catch2/catch.hpp>

#include "sim/basics/elementary.hpp"
#include "sim/basics/random.hpp"

using namespace redress;

namespace {

constexpr int kDraws = 2000;
constexpr double kTight = 4e-15;

double draw(std::uint64_t event, std::uint32_t part, double low, double high) {
  return low + (high - low) * random_uniform(17, Stream::person, event, part);
}

Eigen::Vector3d to_eigen(Vector v) { return {v.x, v.y, v.z}; }

Eigen::Matrix3d to_eigen(const Rotation& r) {
  Eigen::Matrix3d m;
  m << r.row_x.x, r.row_x.y, r.row_x.z, r.row_y.x, r.row_y.y, r.row_y.z, r.row_z.x, r.row_z.y,
      r.row_z.z;
  return m;
}

Vector draw_direction(std::uint64_t event, std::uint32_t part) {
  Vector v{draw(event, part, -1, 1), draw(event, part + 1, -1, 1), draw(event, part + 2, -1, 1)};
  return length(v) < 0.1 ? Vector{0, 0, -1} : normalised(v);
}

double radians(double degrees) { return degrees * elementary::kRadiansPerDegree; }

}  // namespace

TEST_CASE("a rotation about an axis is Eigen's") {
  for (std::uint64_t i = 0; i < kDraws; ++i) {
    const Vector axis = draw_direction(i, 0);
    const double angle = draw(i, 3, -180, 180);
    const Eigen::Matrix3d ours = to_eigen(rotation_about(axis, Degrees{angle}));
    const Eigen::Matrix3d theirs =
        Eigen::AngleAxisd(radians(angle), to_eigen(axis)).toRotationMatrix();
    REQUIRE((ours - theirs).norm() < kTight);
  }
}

TEST_CASE("the smallest rotation between two directions is Eigen's") {
  for (std::uint64_t i = 0; i < kDraws; ++i) {
    const Vector from = draw_direction(i, 4);
    const Vector to = draw_direction(i, 8);
    if (dot(from, to) < -0.999) continue;  // opposite: any axis will do
    const Eigen::Matrix3d ours = to_eigen(rotation_between(from, to));
    const Eigen::Matrix3d theirs =
        Eigen::Quaterniond::FromTwoVectors(to_eigen(from), to_eigen(to)).toRotationMatrix();
    // Its quaternion loses a few digits where the directions are nearly opposite.
    REQUIRE((ours - theirs).norm() < 1e-12);
  }
}

TEST_CASE("a product of rotations and its reverse are Eigen's") {
  for (std::uint64_t i = 0; i < kDraws; ++i) {
    const Rotation a = rotation_about(draw_direction(i, 12), Degrees{draw(i, 15, -90, 90)});
    const Rotation b = rotation_about(draw_direction(i, 16), Degrees{draw(i, 19, -90, 90)});
    REQUIRE((to_eigen(a * b) - to_eigen(a) * to_eigen(b)).norm() < kTight);
    REQUIRE((to_eigen(transposed(a)) - to_eigen(a).transpose()).norm() == 0.0);
    const Vector v = draw_direction(i, 20);
    REQUIRE((to_eigen(a * v) - to_eigen(a) * to_eigen(v)).norm() < kTight);
  }
}

TEST_CASE("a line of sight is straight ahead turned up and then to the right, as Eigen turns it") {
  // Gaze is + to the right and + up; as turns about the head's axes these are about -y and +x.
  for (std::uint64_t i = 0; i < kDraws; ++i) {
    const double horizontal = draw(i, 24, -80, 80);
    const double vertical = draw(i, 25, -80, 80);
    const Vector ours = line_of_sight({Degrees{horizontal}, Degrees{vertical}});
    const Eigen::Vector3d theirs =
        Eigen::AngleAxisd(radians(horizontal), -Eigen::Vector3d::UnitY()) *
        (Eigen::AngleAxisd(radians(vertical), Eigen::Vector3d::UnitX()) *
         Eigen::Vector3d(0, 0, -1));
    REQUIRE((to_eigen(ours) - theirs).norm() < kTight);
    const GazeAngles back = gaze_angles(ours);
    REQUIRE(back.horizontal.value == Approx(horizontal).margin(1e-12));
    REQUIRE(back.vertical.value == Approx(vertical).margin(1e-12));
  }
}
