// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Small shapes that the face is modelled with. Millimetres unless said.
//
// Everything in this room is in the PICTURE'S frame: the head's frame turned half round about the
// vertical, so +x is to the right of the picture (the patient's LEFT), +y up, +z to the examiner.
// Round each eye, n is the distance from the eye's centre towards the nose: one description for
// both.
#pragma once

#include <glm/glm.hpp>

#include <algorithm>
#include <cmath>

namespace redress::face {

inline constexpr float kPi = 3.14159265F;

/// exp(-(d/width)^2).
inline float bump(float d, float width) { return std::exp(-d * d / (width * width)); }

/// Smooth step from 0 at a to 1 at b, either order.
inline float ramp(float a, float b, float x) {
  const float t = std::clamp((x - a) / (b - a), 0.0F, 1.0F);
  return t * t * (3 - 2 * t);
}

/// Maximum with a seam of width k that is smooth to the second derivative: a quadratic one shows as
/// a ring round the eye once light falls on it.
inline float smooth_max(float a, float b, float k) {
  const float h = std::max(k - std::abs(a - b), 0.0F) / k;
  return std::max(a, b) + h * h * h * k / 6;
}

/// Picture x of a point n towards the nose from the centre of eye `side` (0 right, 1 left).
inline float x_of(std::size_t side, float n, float half_ipd) {
  return (side == 1 ? 1.0F : -1.0F) * (half_ipd - n);
}

}  // namespace redress::face
