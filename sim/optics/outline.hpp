// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Flat things with round corners, held square before the face: where a line crosses their plane,
// and how far that is from their outline. Head frame, mm.
#pragma once

#include "sim/basics/vector.hpp"
#include "sim/optics/occluder.hpp"

namespace redress::optics {

/// Where a line crosses a plate's plane, mm from its middle in its own frame: `across` to the
/// patient's right and `up` as long as it is not rolled.
struct PlaneCrossing {
  bool crossed = false;  ///< false: the line ends before the plane
  double across_mm = 0.0;
  double up_mm = 0.0;
};
PlaneCrossing cross_plane(const OccluderPose& pose, Vector from, Vector to);

/// Signed distance from a point to the outline of a rectangle with round corners about the origin:
/// negative inside.
double calc_outline_distance(double across_mm, double up_mm, double half_width_mm,
                             double half_height_mm, double corner_mm);

}  // namespace redress::optics
