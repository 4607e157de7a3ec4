// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/optics/occluder.hpp"

#include "sim/optics/outline.hpp"

namespace redress::optics {

double clearance(const OccluderPose& pose, Vector from, Vector to) {
  const PlaneCrossing at = cross_plane(pose, from, to);
  if (!at.crossed) return kNoCrossingMm;
  return calc_outline_distance(at.across_mm, at.up_mm, kOccluderWidthMm / 2, kOccluderHeightMm / 2,
                               kOccluderCornerMm);
}

bool cuts(const OccluderPose& pose, Vector from, Vector to) {
  return clearance(pose, from, to) <= 0.0;
}

}  // namespace redress::optics
