// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Listing's law in convergence (its binocular extension, L2): each eye's Listing's plane is turned
// temporally, so that both eyes intort on looking up and extort on looking down (Mok, Ro, Cadera,
// Crawford & Vilis 1992, Vision Res 32:2055: the abstract). The eye then obeys Listing's law about
// a primary direction p, temporal of straight ahead by a share of half the vergence.
//
// Against Listing's orientation for distance the eye has turned about its line of sight d by the
// area of the spherical triangle straight ahead, p, d (Gauss & Bonnet); for small angles by a
// quarter of share x vergence x elevation. With a share of 1 the horizontal meridians of both
// retinas stay in one plane wherever in the midline the eyes look. Nothing is turned straight
// ahead, nor anywhere in the horizontal plane.
//
// Share: 0.5 to 1 by study and by what drives the vergence (Kapoula, Bernotas & Haslwanter 1999);
// 0.75, the middle, is taken for vergence of every kind: judgement. Departure: it follows the
// vergence that is commanded, at once.
#pragma once

#include "sim/patient/muscle_geometry.hpp"

namespace redress::patient {

/// Of half the vergence: how far each eye's primary direction stands temporally.
inline constexpr double kListingShare = 0.75;

/// By how much Listing's orientation for this line of sight is turned about it, degrees, muscle
/// frame (+ intorsion; the torsion in `direction` does not count). `vergence_deg` of both eyes.
double calc_listing_turn(Direction3 direction, double vergence_deg);

}  // namespace redress::patient
