// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/optics/occluder.hpp"

#include "sim/basics/elementary.hpp"

namespace redress::optics {

using namespace elementary;

double clearance(const OccluderPose& pose, Vector from, Vector to) {
  const double depth = to.z - from.z;
  const double reach = pose.z_mm - from.z;
  if (depth == 0.0) return kNoCrossingMm;
  const double share = reach / depth;
  if (!(share >= 0.0 && share <= 1.0)) return kNoCrossingMm;
  const double across = (from.x + share * (to.x - from.x)) - pose.x_mm;
  const double up = (from.y + share * (to.y - from.y)) - pose.y_mm;

  const double roll = pose.roll_deg * kRadiansPerDegree;
  const double s = sine(roll);
  const double c = cosine(roll);
  // Into the plate's own frame; there only distances from its two axes matter.
  const double x = magnitude(c * across - s * up);
  const double y = magnitude(s * across + c * up);

  // Distance to the rectangle of the corners' centres, less the radius.
  const double beyond_x = x - (kOccluderWidthMm / 2 - kOccluderCornerMm);
  const double beyond_y = y - (kOccluderHeightMm / 2 - kOccluderCornerMm);
  const double outside =
      hypotenuse(beyond_x > 0.0 ? beyond_x : 0.0, beyond_y > 0.0 ? beyond_y : 0.0);
  const double nearer_side = beyond_x > beyond_y ? beyond_x : beyond_y;
  const double inside = nearer_side < 0.0 ? nearer_side : 0.0;
  return (outside + inside) - kOccluderCornerMm;
}

bool cuts(const OccluderPose& pose, Vector from, Vector to) {
  return clearance(pose, from, to) <= 0.0;
}

}  // namespace redress::optics
