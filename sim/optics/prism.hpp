// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Prisms as solids: from the engraved label to the apex angle, and from what is held before an eye
// to plane faces in the head frame (sim/basics/eye.hpp), millimetres.
//
// Held wrongly, or one on another, a prism does not do what its label says; Thompson & Guyton 1983
// (Ophthalmology 90:204) print that 40 in glass held frontal acts as 32, and 5 on 40 in glass as
// 59. Here that follows from refraction at each face; nothing is looked up.
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <span>

#include "sim/basics/eye.hpp"
#include "sim/basics/units.hpp"
#include "sim/basics/vector.hpp"

namespace redress::optics {

/// Crown glass; the value with which refraction gives back both published numbers of Thompson &
/// Guyton 1983 (32 and 59).
inline constexpr double kGlassIndex = 1.523;
/// Acrylic plastic (1.49 ... 1.492, from memory).
inline constexpr double kPlasticIndex = 1.49;
/// From the back face of the innermost prism to the centre of rotation: the s of Brooks & Borish,
/// System for Ophthalmic Dispensing (13.5 mm from the cornea, and 13.5 mm on to the centre).
inline constexpr double kPrismToCentreMm = 27.0;
inline constexpr std::size_t kMaximumPrisms = 3;

/// The position in which a prism deviates light by what its label says.
enum class Calibration : std::uint8_t { prentice, frontal, minimum_deviation };
enum class Material : std::uint8_t { plastic, glass };
enum class Hold : std::uint8_t { frontal, prentice, minimum };

/// Glass is calibrated for the Prentice position, plastic for the frontal one (Thompson & Guyton
/// 1983).
constexpr Calibration calibration_of(Material material) {
  return material == Material::glass ? Calibration::prentice : Calibration::frontal;
}
constexpr double index_of(Material material) {
  return material == Material::glass ? kGlassIndex : kPlasticIndex;
}

/// By how much one prism of this apex angle (0 ... below 90 degrees) turns parallel light when held
/// in the named position; nothing where no light gets through.
///   Prentice: asin(n sin a) - a. Frontal: asin(n sin(a - asin(sin a / n))).
///   Minimum deviation: 2 asin(n sin(a / 2)) - a.
std::optional<Degrees> calc_deviation(Degrees apex, double index, Calibration position);

/// The apex angle of a prism with this label (0 or more), index (above 1) and calibration; nothing
/// where no such prism exists. Prentice in closed form, tan a = sin d / (n - cos d); the others by
/// bisection with a fixed count.
std::optional<Degrees> apex_angle(PrismDioptres label, double index, Calibration calibration);

/// One filled slot.
struct HeldPrism {
  PrismDioptres label;  ///< above 0
  Material material = Material::plastic;
  Degrees base;  ///< ISO 8429, see sim/basics/eye.hpp
  Degrees apex;  ///< follows from label and material
  bool operator==(const HeldPrism&) const = default;
};

/// Fills in the apex angle; nothing where no prism of this material can have the label.
std::optional<HeldPrism> make_held_prism(PrismDioptres label, Material material, Degrees base);

/// A wedge between two planes, in the head frame, mm. Both normals are unit vectors that point away
/// from the eye. The faces have no edges: a prism is as large as it needs to be.
struct PrismSolid {
  double index = kPlasticIndex;
  Vector back_point;
  Vector back_normal{0, 0, -1};
  Vector front_point;
  Vector front_normal{0, 0, -1};
  bool operator==(const PrismSolid&) const = default;
};

/// What is before one eye, from the eye outward. No memory is allocated.
struct PrismStack {
  std::array<PrismSolid, kMaximumPrisms> solids{};
  std::size_t count = 0;
  [[nodiscard]] std::span<const PrismSolid> view() const { return {solids.data(), count}; }
  bool operator==(const PrismStack&) const = default;
};

/// The unit vector (-cos b, sin b, 0) towards the base. Exact at the quarter turns; the mirrored
/// angle 180 - b gives exactly the mirrored vector. Angles (up to a million degrees either way) are
/// taken to the nearest 2^-24 degree.
Vector base_direction(Degrees base);

/// The prisms (at most three, from the eye outward) held as one before an eye.
///
/// The back face of the first passes through the point 27 mm straight ahead (-z) of
/// `centre_of_rotation`; the stack is turned about that point. Every further prism lies with its
/// back face on the front face before it, with a film of air between; its base direction is carried
/// into that face by the smallest rotation. `hold` is that of the innermost prism:
///   frontal   back face perpendicular to the head's -z;
///   prentice  turned by the smallest rotation with which light from the direction of the target
///             leaves the back face perpendicular to it;
///   minimum   turned, about the axis in the back face perpendicular to the innermost base
///             direction, to the least deviation of that light.
/// `tilt` is a further turn about that same axis, + from frontal towards the Prentice position (the
/// outer normal towards the apex). `target_direction`: unit vector in the head frame, from the
/// centre of rotation, at the moment of the act.
///
/// Nothing where the hold cannot be had because no light gets through (total internal reflection).
/// A stack that can be held may still let no light through: see apparent_direction.
std::optional<PrismStack> make_stack(std::span<const HeldPrism> prisms, Hold hold, Degrees tilt,
                                     Vector centre_of_rotation, Vector target_direction);

/// A label with the direction of its base: a vector in the frontal plane.
struct OrientedLabel {
  PrismDioptres power;  ///< 0 or more
  Degrees base;         ///< ISO 8429, 0 ... 360
};

/// How far from its middle (the point straight ahead) a prism's faces meet: where the line of sight
/// goes when the prism turns it by its label. A prism is thereby as thin as it can be with the eye
/// still looking through glass or plastic; it may be thicker in life, but the published near effect
/// knows no thickness at all. The prisms of a stack meet at the sum of their distances.
constexpr Millimetres calc_edge_distance(PrismDioptres label) {
  return Millimetres{kPrismToCentreMm * (label.value / 100.0)};
}

/// Two labels before one eye as one oblique label: the vector sum (worked example: 2 base in with
/// 1.5 base up is 2.5 at 37 degrees, Durham Technical College optics notes). It is the trade's
/// approximation; the solids do not use it.
OrientedLabel combine(OrientedLabel a, OrientedLabel b);

/// The parts of an oblique label along ISO 8429's 0 and 90 degrees; the reverse of combine.
struct LabelParts {
  PrismDioptres along_0;
  PrismDioptres along_90;
};
LabelParts resolve(OrientedLabel label);

}  // namespace redress::optics
