// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Vectors and rotations in the head frame (axes and signs: sim/basics/eye.hpp). Plain doubles:
// a vector is a place in millimetres or a direction without a unit, as its name says.
#pragma once

#include "sim/basics/elementary.hpp"
#include "sim/basics/units.hpp"

namespace redress {

struct Vector {
  double x = 0.0;
  double y = 0.0;
  double z = 0.0;
  bool operator==(const Vector&) const = default;
};

constexpr Vector operator+(Vector a, Vector b) { return {a.x + b.x, a.y + b.y, a.z + b.z}; }
constexpr Vector operator-(Vector a, Vector b) { return {a.x - b.x, a.y - b.y, a.z - b.z}; }
constexpr Vector operator-(Vector a) { return {-a.x, -a.y, -a.z}; }
constexpr Vector operator*(Vector a, double k) { return {a.x * k, a.y * k, a.z * k}; }
constexpr Vector operator*(double k, Vector a) { return a * k; }
constexpr double dot(Vector a, Vector b) { return a.x * b.x + (a.y * b.y + a.z * b.z); }
constexpr Vector cross(Vector a, Vector b) {
  return {a.y * b.z - a.z * b.y, a.z * b.x - a.x * b.z, a.x * b.y - a.y * b.x};
}
inline double length(Vector a) { return elementary::square_root(dot(a, a)); }
/// a must not be zero.
inline Vector normalised(Vector a) { return a * (1.0 / length(a)); }

/// A proper rotation, by its rows.
struct Rotation {
  Vector row_x{1, 0, 0};
  Vector row_y{0, 1, 0};
  Vector row_z{0, 0, 1};
  bool operator==(const Rotation&) const = default;
};

constexpr Vector operator*(const Rotation& r, Vector v) {
  return {dot(r.row_x, v), dot(r.row_y, v), dot(r.row_z, v)};
}
constexpr Rotation transposed(const Rotation& r) {
  return {{r.row_x.x, r.row_y.x, r.row_z.x},
          {r.row_x.y, r.row_y.y, r.row_z.y},
          {r.row_x.z, r.row_y.z, r.row_z.z}};
}
constexpr Rotation operator*(const Rotation& a, const Rotation& b) {
  const Rotation t = transposed(b);
  return {{dot(a.row_x, t.row_x), dot(a.row_x, t.row_y), dot(a.row_x, t.row_z)},
          {dot(a.row_y, t.row_x), dot(a.row_y, t.row_y), dot(a.row_y, t.row_z)},
          {dot(a.row_z, t.row_x), dot(a.row_z, t.row_y), dot(a.row_z, t.row_z)}};
}

/// Right-handed turn by `angle` about the unit vector `axis` (Rodrigues).
Rotation rotation_about(Vector axis, Degrees angle);

/// The smallest rotation that takes the unit vector `from` to the unit vector `to`; the two must
/// not be opposite.
Rotation rotation_between(Vector from, Vector to);

/// A line of sight as gaze angles; see sim/basics/eye.hpp.
struct GazeAngles {
  Degrees horizontal;
  Degrees vertical;
  bool operator==(const GazeAngles&) const = default;
};

/// `direction` need not have unit length, but must not be zero.
GazeAngles gaze_angles(Vector direction);
/// Unit vector of a line of sight.
Vector line_of_sight(GazeAngles angles);

/// Head posture as a rotation from head axes to room axes (the upright head's axes): chin first,
/// then turn, then roll, each about the upright head's axis.
Rotation head_rotation(Degrees roll, Degrees turn, Degrees chin);

}  // namespace redress
