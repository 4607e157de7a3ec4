// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// What makes a face that of one person beyond its measures: nobody's nose is quite straight, no two
// creases are level, each brow has its own bend. Follows from the seed; judgement throughout.
#pragma once

#include <array>

#include "render/scene/scene.hpp"

namespace redress::face {

struct Traits {
  // Nose.
  float nose_lean_mm = 0;  ///< tip beside the midline, + to the right of the picture
  float tip_width = 1;
  float tip_drop_mm = 0;    ///< + hangs lower
  float wing_flare = 0;     ///< -1..1
  float hump_mm = 0;        ///< on the ridge
  float cheek_tilt_mm = 0;  ///< one cheek fuller than the other
  // Head.
  float childlike =
      0;              ///< 1 in an infant, 0 in an adult: brow-heavy skull, round cheeks, short nose
  float breadth = 1;  ///< of the sides of the head, a share
  float forehead_mm = 0;  ///< + rounder
  float temple = 1;       ///< width of the forehead at its side, a share
  float hairline_mm = 0;  ///< + farther back
  // Lids; index 0 right, 1 left.
  std::array<float, 2> crease_mm{};  ///< height
  float peak = 0;                    ///< of the upper margin, + towards the nose; share of the half
  // Brows.
  std::array<float, 2> brow_mm{};  ///< height of the arch
  float brow_peak = 0.66F;         ///< along the brow, 0..1
  float brow_tail = 1.4F;          ///< how far it falls behind the peak
  float brow_taper = 0.42F;        ///< width of the tail
  float brow_fullness = 1.12F;     ///< width of the head of the brow
  float brow_lean = 1;             ///< how upright its first hairs stand
};

/// The same for the same seed and age group.
Traits make_traits(const scene::PatientAppearance& who);

}  // namespace redress::face
