// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Signs, axes and the order of the two eyes, written once. Everything else refers to this header.
//
// Head frame: right-handed, millimetres, origin midway between the two centres of rotation;
//   +x to the patient's right, +y up, -z straight ahead (each eye is like a camera looking down
//   -z). The examiner sits at -z and therefore sees the patient mirrored.
// Line of sight d (unit vector):
//   horizontal = atan2(d.x, -d.z), degrees, + to the patient's right
//   vertical   = asin(d.y),        degrees, + up
//   torsion    against Listing's orientation for that line, + with the top of the eye towards the
//              patient's right (extorsion of the right eye, intorsion of the left).
//   As turns about the head axes these are about -y, +x and -z: two of three are left-handed.
// Deviation, a rotation of the eyes: (left horizontal - right horizontal) less the same difference
//   of the directions to the target. Eso +, exo -; right eye higher +. Printed in prism dioptres,
//   100 tan(angle). Cyclodeviation (excyclo +) = right torsion - left torsion.
// Head posture: roll + towards the right shoulder, turn + to the right, chin + up.
// Prism base angle (ISO 8429): the base points to (-cos b, sin b) in head x, y, before either eye
//   (right eye: 0 in, 90 up, 180 out, 270 down; left eye: 0 out, 180 in).
// Order of the eyes everywhere: right first.
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>

namespace redress {

enum class Eye : std::uint8_t { right = 0, left = 1 };

inline constexpr std::array<Eye, 2> kBothEyes{Eye::right, Eye::left};

constexpr Eye fellow(Eye eye) { return eye == Eye::right ? Eye::left : Eye::right; }

/// +1 for the right eye, -1 for the left: the side of the head on which the eye lies (head x).
constexpr double side_of(Eye eye) { return eye == Eye::right ? 1.0 : -1.0; }

constexpr const char* name_of(Eye eye) { return eye == Eye::right ? "right" : "left"; }

/// One value for each eye, indexed by the eye.
template <class T>
struct PerEye {
  T right{};
  T left{};

  constexpr T& operator[](Eye eye) { return eye == Eye::right ? right : left; }
  constexpr const T& operator[](Eye eye) const { return eye == Eye::right ? right : left; }
  bool operator==(const PerEye&) const = default;
};

}  // namespace redress
