// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/room/practitioner.hpp"

namespace redress {

Vector own_eye(const Vector& viewpoint, Eye own) {
  return {viewpoint.x - side_of(own) * kOwnHalfDistanceMm, viewpoint.y, viewpoint.z};
}

bool hides_target(const Vector& viewpoint, const Vector& eye, const Vector& target) {
  const double share = -viewpoint.z / length(target);
  if (share <= 0.0 || share >= 1.0) return false;
  // Where the eye's line passes the head, against the line that the seat is measured from.
  const double across = ((1.0 - share) * eye.x - viewpoint.x) / kHeadHalfBreadthMm;
  const double up = ((1.0 - share) * eye.y - (viewpoint.y - kSeatBelowSightMm)) / kEyesToVertexMm;
  return across * across + up * up < 1.0;
}

}  // namespace redress
