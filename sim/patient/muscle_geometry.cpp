// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/patient/muscle_geometry.hpp"

#include "sim/basics/elementary.hpp"

namespace redress::patient {

using namespace elementary;

namespace {

// Millimetres, muscle frame: insertion, and origin (of the superior oblique: the trochlea).
constexpr std::array<Vector, kMuscles> kInsertion{{{10.08, 0.0, 6.50},
                                                   {-9.65, 0.0, 8.84},
                                                   {0.0, 10.48, 7.63},
                                                   {0.0, -10.24, 8.02},
                                                   {2.90, 11.05, -4.41},
                                                   {8.70, 0.0, -7.18}}};
constexpr std::array<Vector, kMuscles> kOrigin{{{-13.0, 0.6, -34.0},
                                                {-17.0, 0.6, -30.0},
                                                {-16.0, 3.8, -31.78},
                                                {-16.0, -2.4, -31.7},
                                                {-15.27, 12.25, 8.24},
                                                {-11.10, -15.46, 11.34}}};
constexpr Vector kInferiorObliquePulley{0.0, -13.5, -7.2};
// Where on the way from its bony origin to its pulley the inferior oblique's path begins: fitted.
// Its action is then extort 0.77, adduct 0.06, elevate 0.64.
constexpr double kInferiorObliqueShare = 0.35;

// A rotation as a unit quaternion.
struct Turn {
  double w = 1.0;
  Vector v;
};

Turn turn_of(Vector orientation) {
  const double angle = length(orientation) * kRadiansPerDegree;
  const double scale =
      angle > 1e-9 ? sine(0.5 * angle) / angle * kRadiansPerDegree : 0.5 * kRadiansPerDegree;
  return {cosine(0.5 * angle), orientation * scale};
}

// Half the turn; needs no angle.
Turn half_of(const Turn& q) {
  const double w = square_root(0.5 * (1.0 + q.w));
  return {w, q.v * (0.5 / w)};
}

Vector turned(const Turn& q, Vector a) {
  const Vector c = cross(q.v, a);
  return a + (c * q.w + cross(q.v, c)) * 2.0;
}

double angle_between(Vector a, Vector b) { return arc_cosine(clamp(dot(a, b), -1.0, 1.0)); }

}  // namespace

Vector orientation_of(Direction3 d) {
  const double h = d.horizontal * kRadiansPerDegree;
  const double v = d.vertical * kRadiansPerDegree;
  const double t = 0.5 * d.torsion * kRadiansPerDegree;
  const double sv = sine(v);
  const double cv = cosine(v);
  const double ct = cosine(t);
  const double st = sine(t);
  // Listing: the axis lies in the plane perpendicular to straight ahead.
  const double w = square_root(0.5 * (1.0 + cosine(h) * cv));
  const double f = 0.5 / w;
  const double x = -sv * f;
  const double y = sine(h) * cv * f;
  const Vector q{x * ct + y * st, y * ct - x * st, w * st};
  const double n = length(q);
  const double scale =
      n > 1e-12 ? 2.0 * arc_tangent(n, w * ct) / n * kDegreesPerRadian : 2.0 * kDegreesPerRadian;
  return q * scale;
}

Direction3 direction_of(Vector orientation) {
  const Turn q = turn_of(orientation);
  const double x = 2.0 * (q.v.x * q.v.z + q.w * q.v.y);
  const double y = 2.0 * (q.v.y * q.v.z - q.w * q.v.x);
  const double z = 1.0 - 2.0 * (q.v.x * q.v.x + q.v.y * q.v.y);
  return {arc_tangent(x, z) * kDegreesPerRadian, arc_sine(clamp(y, -1.0, 1.0)) * kDegreesPerRadian,
          2.0 * arc_tangent(q.v.z, q.w) * kDegreesPerRadian};
}

MusclePaths make_muscle_paths() {
  MusclePaths paths;
  for (std::size_t i = 0; i < kMuscles; ++i) {
    Vector from = kOrigin[i];
    if (i == kInferiorOblique) {
      from = from + (kInferiorObliquePulley - from) * kInferiorObliqueShare;
    }
    paths.insertion[i] = normalised(kInsertion[i]);
    paths.path[i] = normalised(from);
    paths.rest_angle[i] = angle_between(paths.insertion[i], paths.path[i]);
  }
  return paths;
}

MuscleLines calc_muscle_lines(const MusclePaths& paths, Vector orientation) {
  const Turn whole = turn_of(orientation);
  const Turn half = half_of(whole);
  MuscleLines lines;
  for (std::size_t i = 0; i < kMuscles; ++i) {
    const Vector insertion = turned(whole, paths.insertion[i]);
    const Vector path = turned(half, paths.path[i]);
    // Twice: the path point has made the other half. (Measured to a fixed origin, the angle of the
    // lateral rectus, 144 degrees at rest, would fold over at 36 degrees of adduction.)
    lines.stretch_deg[i] =
        2.0 * (angle_between(insertion, path) - paths.rest_angle[i]) * kDegreesPerRadian;
    lines.axis[i] = normalised(cross(insertion, path));
    if (i < kSuperiorOblique) {
      lines.stop_stretch_deg[i] = lines.stretch_deg[i];
      lines.stop_axis[i] = lines.axis[i];
    } else {
      lines.stop_stretch_deg[i] =
          (angle_between(insertion, paths.path[i]) - paths.rest_angle[i]) * kDegreesPerRadian;
      lines.stop_axis[i] = normalised(cross(insertion, paths.path[i]));
    }
  }
  return lines;
}

}  // namespace redress::patient
