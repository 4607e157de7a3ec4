// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The occluder: a plate with rounded corners, perpendicular to the head's z. Head frame, mm.
#pragma once

#include "sim/basics/vector.hpp"

namespace redress::optics {

/// Size of the plate: that of ordinary spoon-shaped occluders (common practice, no source).
inline constexpr double kOccluderWidthMm = 50.0;
inline constexpr double kOccluderHeightMm = 70.0;
inline constexpr double kOccluderCornerMm = 20.0;

struct OccluderPose {
  double x_mm = 0.0;
  double y_mm = 0.0;
  double z_mm = 0.0;
  double roll_deg = 0.0;  ///< about the head's -z: + takes its top to the patient's right
  bool operator==(const OccluderPose&) const = default;
};

/// What `clearance` answers where the line does not reach the plate's plane.
inline constexpr double kNoCrossingMm = 1e9;

/// Signed distance, in the plate's plane, from the point where the line from `from` to `to` crosses
/// it to the outline: negative inside. kNoCrossingMm where the line ends before the plane.
double clearance(const OccluderPose& pose, Vector from, Vector to);

/// Whether the plate cuts the line from `from` to `to` (the outline belongs to the plate).
bool cuts(const OccluderPose& pose, Vector from, Vector to);

}  // namespace redress::optics
