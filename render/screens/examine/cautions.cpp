// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/screens/examine/cautions.hpp"

#include <cmath>

#include <fmt/format.h>

#include "sim/optics/sight.hpp"
#include "sim/room/holding_hand.hpp"
#include "sim/room/practitioner.hpp"

namespace redress::screens::examine {

bool Cautions::has_lasted(Lasting& what, bool is_so, Tick now, Tick for_ms) {
  if (!is_so) {
    what.since = -1;
    what.told = false;
    return false;
  }
  if (what.since < 0) what.since = now;
  if (what.told || now - what.since < for_ms || now - what.said < kAgainMs) return false;
  what.told = true;
  what.said = now;
  return true;
}

std::optional<std::string> Cautions::step(Tick now, const RoomState& room,
                                          Millimetres interpupillary) {
  const OccluderState& o = room.occluder;
  const bool held = o.before_face && !o.leaving && o.motion.travel_ms == 0;
  const double distance_mm = std::round(-o.pose.z_mm - optics::kCorneaToCentreMm);
  const bool too_far =
      held && distance_mm >= kTooFarMm && (room.covered.right || room.covered.left);
  const bool occluder = has_lasted(occluder_, too_far, now, kOccluderStoodMs);
  const bool hidden = room.appearance.right.behind_head || room.appearance.left.behind_head;
  const bool head = has_lasted(head_, hidden, now, kHeadThereMs);

  // Eyes are taken to look straight ahead.
  const auto find_pupil = [interpupillary](Eye eye) {
    return optics::entrance_pupil(optics::centre_of_rotation(eye, interpupillary),
                                  Vector{0, 0, -1});
  };
  std::optional<Eye> behind_hand;
  for (const Eye eye : kBothEyes) {
    const bool is_so = o.before_face && !room.covered[eye] &&
                       held_clearance(o.pose, find_pupil(eye), room.viewpoint) <= 0.0;
    if (has_lasted(hand_[eye], is_so, now, kHandThereMs)) behind_hand = eye;
  }

  // The eye under observation is the one that is free while its fellow is covered.
  std::optional<Eye> watched;
  if (room.covered.right != room.covered.left) {
    watched = room.covered.right ? Eye::left : Eye::right;
  }
  std::optional<Eye> lost;
  for (const Eye own : kBothEyes) {
    const bool cut =
        watched && hides_from_view(o.pose, find_pupil(*watched), own_eye(room.viewpoint, own));
    if (has_lasted(own_eye_[own], cut, now, kOwnEyeLostMs)) lost = own;
  }

  if (head) return "Your head is before the target.";
  if (behind_hand) {
    return fmt::format("Your hand hides the patient's {} eye.", name_of(*behind_hand));
  }
  if (occluder) {
    return fmt::format("Your occluder is {:.0f} mm from the face; the eye could see round it.",
                       distance_mm);
  }
  if (lost) {
    return fmt::format("Your own {} eye has not seen the patient's {} eye for {} s.",
                       name_of(*lost), name_of(*watched), kOwnEyeLostMs / 1000);
  }
  return std::nullopt;
}

}  // namespace redress::screens::examine
