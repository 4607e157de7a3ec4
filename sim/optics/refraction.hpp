// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Snell's law for vectors at one plane face. Directions are unit vectors without a unit of length.
#pragma once

#include <optional>

#include "sim/basics/elementary.hpp"
#include "sim/basics/vector.hpp"

namespace redress::optics {

/// The direction after the face, or nothing where no light goes on: total internal reflection, or a
/// ray that would have to come from behind the face. `normal` is a unit vector that points the way
/// the light goes; `ratio` is the index before the face over the index behind it.
inline std::optional<Vector> refract(Vector direction, Vector normal, double ratio) {
  const double cosine_before = dot(direction, normal);
  if (!(cosine_before > 0.0)) return std::nullopt;
  const double square = 1.0 - ratio * ratio * (1.0 - cosine_before * cosine_before);
  if (!(square > 0.0)) return std::nullopt;
  const double along = elementary::square_root(square) - ratio * cosine_before;
  return normalised(ratio * direction + along * normal);
}

}  // namespace redress::optics
