// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/room/holding_hand.hpp"

#include <algorithm>

#include "sim/optics/outline.hpp"

namespace redress {

double handle_lean_deg(const optics::OccluderPose& blade) {
  const double t = std::clamp(blade.x_mm / kWholeLeanMm, -1.0, 1.0);
  return kHandleLeanDeg * t * (1.5 - 0.5 * t * t);  // slope 0 where it is whole
}

double held_clearance(const optics::OccluderPose& blade, Vector pupil, Vector own_eye) {
  optics::OccluderPose handle = blade;
  handle.roll_deg -= handle_lean_deg(blade);  // a roll takes the lower end to the patient's left
  const optics::PlaneCrossing at = optics::cross_plane(handle, pupil, own_eye);
  double nearest = optics::kNoCrossingMm;
  if (!at.crossed) return nearest;
  for (const HeldPart& part : kHeldParts) {
    const double middle = 0.5 * (part.from_mm + part.to_mm);
    const double half_length = 0.5 * (part.to_mm - part.from_mm);
    nearest = std::min(
        nearest, optics::calc_outline_distance(at.across_mm, at.up_mm + middle, part.half_width_mm,
                                               half_length, part.corner_mm));
  }
  return nearest;
}

bool hides_from_view(const optics::OccluderPose& blade, Vector pupil, Vector own_eye) {
  return optics::cuts(blade, pupil, own_eye) || held_clearance(blade, pupil, own_eye) <= 0.0;
}

}  // namespace redress
