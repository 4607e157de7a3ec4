// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Where the six muscles of an eye run, and the one place where the head frame becomes the muscles'.
//
// Muscle frame of one eye: x temporal, y up, z anterior, origin at the centre of rotation, so that
// both eyes have the same numbers (the left eye literally, the right one as its mirror image).
// Angles in degrees: horizontal + temporal (abduction), vertical + up, torsion + intorsion. As an
// orientation: a rotation vector, degrees about x, y, z. Torsion is told against Listing's
// orientation for the line of sight (half-angle rule; Hess & Thomassen 2014).
//
// Places: Filip, Stanev & Moustakas 2018, arXiv:1807.07332, after Iskander et al. 2018 (the recti
// equal Volkmann's table of 1869), the insertion of the superior oblique with x = -4.4 as in
// Volkmann; that paper prints +4.4. Each muscle's path point makes half the turn of the eye
// (half-angle pulleys: Quaia & Optican 1998; Raphan 1998), the obliques' as well: with fixed points
// a weak superior oblique would reverse its deviation on looking to its own side.
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>

#include "sim/basics/eye.hpp"
#include "sim/basics/vector.hpp"

namespace redress::patient {

/// In reciprocal pairs; the order of every list of six.
enum Muscle : std::uint8_t {
  kLateralRectus,
  kMedialRectus,
  kSuperiorRectus,
  kInferiorRectus,
  kSuperiorOblique,
  kInferiorOblique
};
inline constexpr std::size_t kMuscles = 6;
inline constexpr std::size_t kPairs = 3;

/// A direction and torsion, degrees: in the head frame of sim/basics/eye.hpp or in the muscles'.
struct Direction3 {
  double horizontal = 0.0;
  double vertical = 0.0;
  double torsion = 0.0;
  bool operator==(const Direction3&) const = default;
};

/// Head frame to muscle frame. The same rule leads back: it only changes signs.
constexpr Direction3 to_muscle_frame(Eye eye, Direction3 head) {
  const double side = side_of(eye);
  return {side * head.horizontal, head.vertical, -side * head.torsion};
}
constexpr Direction3 to_head_frame(Eye eye, Direction3 muscle) {
  return to_muscle_frame(eye, muscle);
}

/// The orientation (rotation vector, degrees, muscle frame) that Listing's law and then a turn by
/// `torsion` about the line of sight give. Directions within 90 degrees of straight ahead.
Vector orientation_of(Direction3 direction);
/// And back.
Direction3 direction_of(Vector orientation);

/// Where each muscle pulls, and how much longer it is than straight ahead, at one orientation.
struct MuscleLines {
  std::array<double, kMuscles> stretch_deg{};
  std::array<Vector, kMuscles> axis{};  ///< unit; a pull turns the eye about it
  /// The same of a stop: a rectus that will not yield pulls to its pulley, a taut oblique is a cord
  /// to its fixed end.
  std::array<double, kMuscles> stop_stretch_deg{};
  std::array<Vector, kMuscles> stop_axis{};
};

/// Insertions and path points straight ahead.
struct MusclePaths {
  std::array<Vector, kMuscles> insertion{};   ///< unit
  std::array<Vector, kMuscles> path{};        ///< unit
  std::array<double, kMuscles> rest_angle{};  ///< between the two, radians
};

MusclePaths make_muscle_paths();

MuscleLines calc_muscle_lines(const MusclePaths& paths, Vector orientation);

}  // namespace redress::patient
