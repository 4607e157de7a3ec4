// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/optics/outline.hpp"

#include "sim/basics/elementary.hpp"

namespace redress::optics {

using namespace elementary;

PlaneCrossing cross_plane(const OccluderPose& pose, Vector from, Vector to) {
  const double depth = to.z - from.z;
  const double reach = pose.z_mm - from.z;
  if (depth == 0.0) return {};
  const double share = reach / depth;
  if (!(share >= 0.0 && share <= 1.0)) return {};
  const double across = (from.x + share * (to.x - from.x)) - pose.x_mm;
  const double up = (from.y + share * (to.y - from.y)) - pose.y_mm;
  const double roll = pose.roll_deg * kRadiansPerDegree;
  const double s = sine(roll);
  const double c = cosine(roll);
  return {true, c * across - s * up, s * across + c * up};
}

double calc_outline_distance(double across_mm, double up_mm, double half_width_mm,
                             double half_height_mm, double corner_mm) {
  // Only distances from its two axes matter: to the rectangle of the corners' centres, less the
  // radius.
  const double beyond_x = magnitude(across_mm) - (half_width_mm - corner_mm);
  const double beyond_y = magnitude(up_mm) - (half_height_mm - corner_mm);
  const double outside =
      hypotenuse(beyond_x > 0.0 ? beyond_x : 0.0, beyond_y > 0.0 ? beyond_y : 0.0);
  const double nearer_side = beyond_x > beyond_y ? beyond_x : beyond_y;
  const double inside = nearer_side < 0.0 ? nearer_side : 0.0;
  return (outside + inside) - corner_mm;
}

}  // namespace redress::optics
