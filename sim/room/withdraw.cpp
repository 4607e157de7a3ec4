// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// A patient that takes its head away from the occluder.
#include "sim/basics/elementary.hpp"
#include "sim/room/room.hpp"

namespace redress {

namespace {

// The head turns about the neck, so far behind the centres of rotation of the eyes (judgement).
constexpr double kNeckMm = 90.0;
constexpr double kTicksPerSecond = 1000.0;

// What stays where it is in the room goes the other way in the head's frame.
optics::OccluderPose left_behind(const optics::OccluderPose& pose, double turned_deg) {
  const double angle = -turned_deg * elementary::kRadiansPerDegree;
  const double c = elementary::cosine(angle);
  const double s = elementary::sine(angle);
  const double ahead = kNeckMm - pose.z_mm;  // of the neck
  return {c * pose.x_mm + s * ahead, pose.y_mm, kNeckMm - (c * ahead - s * pose.x_mm),
          pose.roll_deg};
}

}  // namespace

void withdraw_head(const RoomParameters& parameters, double turn_deg, Tick now, RoomState& room) {
  const double turned = turn_deg - room.withdrawn_deg;
  HeadMotion& h = room.head;
  // The organs of balance feel this turn as they do one by the practitioner's hand.
  if (h.motion.travel_ms <= 0) h.speed_deg_s = {turned * kTicksPerSecond, 0.0};
  if (turned == 0.0) return;
  room.withdrawn_deg = turn_deg;
  for (HeadState* posture : {&h.now, &h.from, &h.to}) posture->turn.value += turned;
  OccluderState& o = room.occluder;
  if (o.before_face) {
    for (optics::OccluderPose* pose : {&o.pose, &o.from, &o.to}) *pose = left_behind(*pose, turned);
  }
  find_appearance(parameters, now, room);
}

}  // namespace redress
