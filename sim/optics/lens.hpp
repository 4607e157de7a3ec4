// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Spectacle and contact lenses: where an eye has to point to see through one, and what the lens
// leaves to accommodate. Head frame (sim/basics/eye.hpp), millimetres and dioptres.
//
// A spectacle lens is thin and flat: a plane perpendicular to -z, fixed to the head. A line with
// the slopes s = (x, y) per unit of -z that crosses it at the place q goes on with
//   s' = s - F (q - c) + p
// F the matrix of its powers, c the optical centre, p the prism worked in (label / 100, to the
// base). For a line at right angles this is Prentice's rule, a prism dioptre for each centimetre
// and dioptre; kept in slopes it is the lens of Gauss, which images planes as planes. It gives the
// published change of a measured deviation, measured = true (1 - d F) (Scattergood, Brown & Guyton
// 1983, Am J Ophthalmol 96:439), with d the distance from lens to centre of rotation. A real lens
// departs from it far from its centre by its bending, which no case tells.
//
// Where the eye has to point follows from the target and from where the lens stands on the face,
// not from where the eye happens to point: nothing of it has to be found anew while the eye moves.
// What that leaves out: an eye that does not point at the target gets the image through another
// place of the lens, and through its pupil instead of its centre of rotation. The retina then says
// something else than the turn that is needed: 9 percent more behind -10 D, 3 behind -3 D, 7 less
// behind +6 D (lens_test). A person used to such lenses turns by what is needed, and so does this
// one; two images are reported as far apart as the eyes would have to turn.
#pragma once

#include <cstdint>
#include <optional>

#include "sim/basics/units.hpp"
#include "sim/basics/vector.hpp"
#include "sim/optics/ray.hpp"

namespace redress::optics {

/// Powers, or vergences of light, along the head's x and y: a symmetric matrix, dioptres.
struct PowerMatrix {
  double xx = 0.0;
  double xy = 0.0;
  double yy = 0.0;
  bool operator==(const PowerMatrix&) const = default;
};

constexpr PowerMatrix operator+(PowerMatrix a, PowerMatrix b) {
  return {a.xx + b.xx, a.xy + b.xy, a.yy + b.yy};
}
constexpr PowerMatrix operator-(PowerMatrix a, PowerMatrix b) {
  return {a.xx - b.xx, a.xy - b.xy, a.yy - b.yy};
}
constexpr PowerMatrix operator*(double k, PowerMatrix a) { return {k * a.xx, k * a.xy, k * a.yy}; }
constexpr PowerMatrix sphere_of(double dioptres) { return {dioptres, 0.0, dioptres}; }
constexpr double mean_of(PowerMatrix a) { return 0.5 * (a.xx + a.yy); }
/// Half the difference between the two principal powers.
double half_cylinder(PowerMatrix a);

/// Sphere, cylinder and axis as written: ISO 8429, the axis counted as the base of a prism is.
PowerMatrix to_powers(Dioptres sphere, Dioptres cylinder, Degrees axis);

/// Light of this vergence (or a lens of this power, for a distant target) `distance_mm` further on.
PowerMatrix carried(PowerMatrix vergence, double distance_mm);

enum class LensDesign : std::uint8_t { single, bifocal, progressive };

/// The part of a bifocal that a line goes through.
enum class LensPart : std::uint8_t { distance, near };

/// Half the width of a bifocal's segment (28 mm, the commonest; common practice, no source).
inline constexpr double kSegmentHalfWidthMm = 14.0;
/// From the top of a segment down to its optical centre (28 mm flat top, from memory).
inline constexpr double kSegmentCentreMm = 5.0;
/// How soon a progressive lens gives up its power to the sides: judgement. With it the addition is
/// within a quarter dioptre 4 mm beside the near end, and the astigmatism 10 mm beside the middle
/// of a corridor of 14 mm is more than half as much again as the addition.
inline constexpr double kProgressiveWidthMm = 8.0;

/// A lens before one eye. Places are those in its plane from the point straight ahead of the eye's
/// centre of rotation: x to the patient's right, y up, mm.
struct Lens {
  bool contact = false;  ///< on the cornea: goes with the eye and turns no line of sight
  PowerMatrix power;     ///< away from the addition
  double prism_x = 0.0;  ///< slopes, towards the base
  double prism_y = 0.0;
  double centre_x_mm = 0.0;  ///< optical centre
  double centre_y_mm = 0.0;
  double vertex_mm = 12.0;  ///< from the cornea
  LensDesign design = LensDesign::single;
  double add_d = 0.0;
  double near_x_mm = 0.0;     ///< middle of the segment, or of the near end of the corridor
  double near_top_mm = 0.0;   ///< top of the segment, or of the corridor
  double corridor_mm = 14.0;  ///< from there down to the whole addition
  bool operator==(const Lens&) const = default;
};

/// No power and no prism anywhere: as if it were not there.
bool is_plano(const Lens& lens);

/// From the lens to the centre of rotation.
double calc_distance_to_centre(const Lens& lens);

/// What the lens does at one place.
struct LensEffect {
  double bend_x = 0.0;  ///< of a line going outward: slope after less slope before
  double bend_y = 0.0;
  PowerMatrix power;  ///< how the bend changes with the place, dioptres
};
LensEffect calc_effect(const Lens& lens, LensPart part, double x_mm, double y_mm);

/// Which part of a bifocal lies there; `distance` of any other lens.
LensPart part_at(const Lens& lens, double x_mm, double y_mm);

/// The line after the lens; its origin lies in the lens. `centre`: the eye's centre of rotation.
Ray pass_outward(const Lens& lens, LensPart part, Vector centre, Ray ray);
Ray pass_inward(const Lens& lens, LensPart part, Vector centre, Ray light);

/// Where the eye has to point, and what the lens is there.
struct LensSight {
  Vector direction;  ///< unit vector from the centre of rotation
  PowerMatrix power;
  LensPart part = LensPart::distance;
};

/// Through one part of the lens, wherever it ends. Nothing where no line through the centre of
/// rotation gets to the target upright (plus power beyond about 39 D), or where the target is not
/// beyond the lens.
std::optional<LensSight> look_through(const Lens& lens, LensPart part, Vector centre,
                                      Vector target);

/// Through whichever part is in the way. At the edge of a segment a target can be seen through both
/// parts or through neither: then through the distance part, or as if the segment went on.
std::optional<LensSight> look_through(const Lens& lens, Vector centre, Vector target);

/// What is left for accommodation.
struct Focus {
  double demand_d = 0.0;       ///< mean of both meridians, at the cornea
  double astigmatism_d = 0.0;  ///< half the difference between them: no accommodation removes it
};

/// `correction`: the lens that corrects the eye for distance, at the cornea (see carried).
/// `power`: of the lens where the line of sight goes through. `distance_m`: of the target from the
/// centre of rotation.
Focus calc_focus(PowerMatrix correction, const Lens& lens, PowerMatrix power, double distance_m);

/// The same without a lens.
Focus calc_focus(PowerMatrix correction, double distance_m);

}  // namespace redress::optics
