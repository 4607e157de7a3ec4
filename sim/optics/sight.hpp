// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Lines of sight: where an eye has to point to see a target at a finite distance, through whatever
// prisms are before it. Head frame and signs: sim/basics/eye.hpp; mm unless the name says metres.
//
// The arithmetic is symmetric: with every x negated, each result has exactly its x negated.
#pragma once

#include <optional>
#include <span>

#include "sim/basics/eye.hpp"
#include "sim/basics/units.hpp"
#include "sim/basics/vector.hpp"
#include "sim/optics/lens.hpp"
#include "sim/optics/prism.hpp"
#include "sim/optics/ray.hpp"

namespace redress::optics {

/// From the corneal apex back to the centre of rotation (13.5 mm, common value, from memory).
inline constexpr double kCorneaToCentreMm = 13.5;
/// From the corneal apex back to the centre of the entrance pupil (3.05 mm, Gullstrand's eye, from
/// memory).
inline constexpr double kCorneaToPupilMm = 3.05;
inline constexpr double kPupilToCentreMm = kCorneaToCentreMm - kCorneaToPupilMm;

/// The place of a target, mm, room axes (the upright head's frame): `distance_m` above 0 from the
/// head origin, angles as those of a line of sight.
Vector target_point(double distance_m, double horizontal_deg, double vertical_deg);

/// Half the interpupillary distance to the eye's side of the head origin.
Vector centre_of_rotation(Eye eye, Millimetres ipd);
/// `line_of_sight`: unit vector.
Vector corneal_apex(Vector centre_of_rotation, Vector line_of_sight);
/// Centre of the entrance pupil.
Vector entrance_pupil(Vector centre_of_rotation, Vector line_of_sight);

/// Follows a ray from the eye outward through all faces. The origin of the result lies on the last
/// face. Nothing where no light gets through. Without prisms: the ray itself.
std::optional<Ray> trace(Ray ray, std::span<const PrismSolid> prisms);

/// The same from the outermost front face to the eye.
std::optional<Ray> trace_inward(Ray ray, std::span<const PrismSolid> prisms);

/// The unit vector along which a line through the centre of rotation, refracted by the prisms,
/// passes through the target point. Newton's method from a fixed start, at most twelve steps, on
/// the light's way from the target to the eye; accurate to 1e-13. Nothing where no light gets
/// through, or where the target is not beyond the prisms.
/// Nothing, too, in rare settings that nobody uses (about one in ten thousand with three strong
/// prisms on one another or with the eye turned more than 45 degrees), where the search gets stuck.
/// About 5 microseconds: keep the result while nothing moves.
std::optional<Vector> apparent_direction(Vector centre_of_rotation, Vector target_point,
                                         std::span<const PrismSolid> prisms);

/// The same through a lens with the prisms before it, and what the lens is there. A prism's back
/// face stays 27 mm before the centre of rotation: a lens worn farther off than that stands in the
/// prism's place, and both act in their order all the same.
std::optional<LensSight> look_through(const Lens& lens, Vector centre_of_rotation,
                                      Vector target_point, std::span<const PrismSolid> prisms);

/// Convergence demanded by a target straight ahead, 2 atan(ipd / (2 distance)); distance above 0.
Degrees vergence_demand(Millimetres ipd, double distance_m);

/// What a label is worth at a near object, by the published formula P / (1 + s / l) (Brooks &
/// Borish, System for Ophthalmic Dispensing, who count l negative), s = 27 mm. `distance_m` (l,
/// above 0) is from the prism to the object.
PrismDioptres near_effect(PrismDioptres label, double distance_m);

/// A label in parts, with the sign of the deviation that it neutralises.
struct NeutralisingLabel {
  /// + base out (neutralises eso), - base in (exo), before either eye.
  PrismDioptres horizontal;
  /// + neutralises a higher right eye: base down before the right eye, base up before the left.
  PrismDioptres vertical;
};

/// The label, up to 100, of the one plastic prism held frontal before this eye through which the
/// target appears along `line_of_sight` (unit vector, the eye's direction with the other eye fixing
/// and no prism before this one): the eye then need not move to take up fixation. An oblique prism
/// is given by its parts (see resolve). The prism is held in front of `lens`, if there is one.
/// Nothing where no such prism exists.
std::optional<NeutralisingLabel> neutralising(Eye eye, Vector line_of_sight,
                                              Vector centre_of_rotation, Vector target_point,
                                              const Lens* lens = nullptr);

}  // namespace redress::optics
