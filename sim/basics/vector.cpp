// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/basics/vector.hpp"

namespace redress {

using namespace elementary;

namespace {
Rotation rotation_from(Vector axis, double sine_of_angle, double cosine_of_angle) {
  const double s = sine_of_angle;
  const double c = cosine_of_angle;
  const double k = 1.0 - c;
  const Vector a = axis;
  return {{c + k * a.x * a.x, k * a.x * a.y - s * a.z, k * a.x * a.z + s * a.y},
          {k * a.x * a.y + s * a.z, c + k * a.y * a.y, k * a.y * a.z - s * a.x},
          {k * a.x * a.z - s * a.y, k * a.y * a.z + s * a.x, c + k * a.z * a.z}};
}
}  // namespace

Rotation rotation_about(Vector axis, Degrees angle) {
  const double radians = angle.value * kRadiansPerDegree;
  return rotation_from(axis, sine(radians), cosine(radians));
}

Rotation rotation_between(Vector from, Vector to) {
  const Vector turn = cross(from, to);
  const double sine_of_angle = length(turn);
  if (sine_of_angle == 0.0) return {};
  return rotation_from(turn * (1.0 / sine_of_angle), sine_of_angle, dot(from, to));
}

GazeAngles gaze_angles(Vector direction) {
  const double across = hypotenuse(direction.x, direction.z);
  return {Degrees{arc_tangent(direction.x, -direction.z) * kDegreesPerRadian},
          Degrees{arc_tangent(direction.y, across) * kDegreesPerRadian}};
}

Vector line_of_sight(GazeAngles angles) {
  const double h = angles.horizontal.value * kRadiansPerDegree;
  const double v = angles.vertical.value * kRadiansPerDegree;
  const double across = cosine(v);
  return {across * sine(h), sine(v), -(across * cosine(h))};
}

Rotation head_rotation(Degrees roll, Degrees turn, Degrees chin) {
  // +turn is to the right (about -y), +chin is up (about +x), +roll takes the top of the head
  // towards the right shoulder (about -z).
  const Rotation about_x = rotation_about({1, 0, 0}, chin);
  const Rotation about_y = rotation_about({0, -1, 0}, turn);
  const Rotation about_z = rotation_about({0, 0, -1}, roll);
  return about_z * (about_y * about_x);
}

}  // namespace redress
