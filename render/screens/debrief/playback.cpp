// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/screens/debrief/playback.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <limits>
#include <type_traits>

#include "sim/basics/units.hpp"

namespace redress::screens::debrief {

namespace {

constexpr double kLidsOpen = 0.5;  // below, the pupil is covered: nothing is seen of the gaze
constexpr Tick kRoomMs = 20;       // while target or head move
constexpr float kGap = std::numeric_limits<float>::quiet_NaN();

std::size_t index_of(Eye eye) { return eye == Eye::right ? 0 : 1; }

bool is_under_way(const Motion& motion, Tick now) {
  return motion.travel_ms > 0 && now <= motion.start + motion.travel_ms;
}

float to_pd(double degrees) {
  return static_cast<float>(to_prism_dioptres(Degrees{degrees}).value);
}

double between(double a, double b, double share) { return a + (b - a) * share; }

}  // namespace

void Playback::row(const Observation& seen, const RoomState& room) {
  end_ms_ = seen.at_ms;
  if (rooms_.empty()) {
    first_ms_ = seen.at_ms;
    rooms_.emplace_back(seen.at_ms, room);
  }
  const bool moving =
      is_under_way(room.target.motion, seen.at_ms) || is_under_way(room.head.motion, seen.at_ms);
  if (moving && seen.at_ms % kRoomMs == 0) keep_room(seen.at_ms, room);
  if (seen.at_ms % kFrameMs != 0) return;

  Frame frame;
  frame.fused = seen.fused;
  frame.fixing = seen.fixing;
  for (const Eye eye : kBothEyes) {
    const EyeObservation& e = seen.eye[eye];
    frame.eye[index_of(eye)] = {
        static_cast<float>(e.horizontal_deg),    static_cast<float>(e.vertical_deg),
        static_cast<float>(e.torsion_deg),       static_cast<float>(e.pupil_mm),
        static_cast<float>(e.lid_open_fraction), static_cast<float>(e.listing_deg)};
    frame.covered[index_of(eye)] = e.covered;
    const Appearance& target = room.appearance[eye];
    const bool shown = e.lid_open_fraction >= kLidsOpen;
    across_[eye].push_back(shown ? to_pd(e.horizontal_deg - target.horizontal_deg) : kGap);
    up_[eye].push_back(shown ? to_pd(e.vertical_deg - target.vertical_deg) : kGap);
  }
  frames_.push_back(frame);
  keep_occluder(seen.at_ms, room.occluder);
}

void Playback::keep_room(Tick at_ms, const RoomState& room) {
  if (!rooms_.empty() && rooms_.back().first == at_ms) {
    rooms_.back().second = room;
  } else {
    rooms_.emplace_back(at_ms, room);
  }
}

void Playback::keep_occluder(Tick at_ms, const OccluderState& occluder) {
  const OccluderAt now{at_ms, occluder.pose, occluder.kind, occluder.before_face};
  if (!occluder_.empty()) {
    OccluderAt last = occluder_.back();
    const bool same =
        last.pose == now.pose && last.kind == now.kind && last.before_face == now.before_face;
    if (same) return;
    // It rested until the frame before.
    if (last.at_ms < at_ms - kFrameMs) {
      last.at_ms = at_ms - kFrameMs;
      occluder_.push_back(last);
    }
  }
  occluder_.push_back(now);
}

void Playback::put_occluder(double at_ms, RoomState& room) const {
  const auto next = std::upper_bound(
      occluder_.begin(), occluder_.end(), at_ms,
      [](double t, const OccluderAt& o) { return t < static_cast<double>(o.at_ms); });
  if (next == occluder_.begin()) return;
  const OccluderAt& from = *std::prev(next);
  OccluderState& o = room.occluder;
  o.pose = from.pose;
  o.kind = from.kind;
  o.before_face = from.before_face;
  if (next == occluder_.end() || next->at_ms - from.at_ms > kFrameMs || !next->before_face) return;
  const double share =
      (at_ms - static_cast<double>(from.at_ms)) / static_cast<double>(next->at_ms - from.at_ms);
  o.pose.x_mm = between(from.pose.x_mm, next->pose.x_mm, share);
  o.pose.y_mm = between(from.pose.y_mm, next->pose.y_mm, share);
  o.pose.z_mm = between(from.pose.z_mm, next->pose.z_mm, share);
  o.pose.roll_deg = between(from.pose.roll_deg, next->pose.roll_deg, share);
}

Playback Playback::cut(double from_ms, double to_ms) const {
  Playback piece;
  const auto index = [&](double ms) {
    const double at = (ms - static_cast<double>(first_ms_)) / static_cast<double>(kFrameMs);
    return std::min(frames_.size(), static_cast<std::size_t>(std::max(0.0, at)));
  };
  const std::size_t from = index(from_ms);
  const std::size_t to = std::min(frames_.size(), index(to_ms) + 1);
  const auto copy = [&](const auto& all) {
    return std::decay_t<decltype(all)>(all.begin() + static_cast<std::ptrdiff_t>(from),
                                       all.begin() + static_cast<std::ptrdiff_t>(to));
  };
  piece.frames_ = copy(frames_);
  for (const Eye eye : kBothEyes) {
    piece.across_[eye] = copy(across_[eye]);
    piece.up_[eye] = copy(up_[eye]);
  }
  piece.first_ms_ = first_ms_ + static_cast<Tick>(from) * kFrameMs;
  piece.end_ms_ = std::min(end_ms_, static_cast<Tick>(to_ms));
  // What holds at the beginning was entered before it.
  for (const OccluderAt& each : occluder_) {
    if (each.at_ms <= piece.first_ms_) piece.occluder_.clear();
    if (each.at_ms <= piece.end_ms_ + kFrameMs) piece.occluder_.push_back(each);
  }
  for (const auto& each : rooms_) {
    if (each.first <= piece.first_ms_) piece.rooms_.clear();
    if (each.first <= piece.end_ms_) piece.rooms_.push_back(each);
  }
  return piece;
}

examine::Moment Playback::moment_at(double at_ms) const {
  examine::Moment moment;
  if (frames_.empty()) return moment;
  const double t = std::clamp(at_ms, static_cast<double>(first_ms_), static_cast<double>(end_ms_));
  const auto room = std::upper_bound(
      rooms_.begin(), rooms_.end(), t,
      [](double x, const auto& entry) { return x < static_cast<double>(entry.first); });
  moment.room = room == rooms_.begin() ? rooms_.front().second : std::prev(room)->second;
  put_occluder(t, moment.room);

  const double place = (t - static_cast<double>(first_ms_)) / static_cast<double>(kFrameMs);
  const auto first = std::min(static_cast<std::size_t>(place), frames_.size() - 1);
  const std::size_t second = std::min(first + 1, frames_.size() - 1);
  const double share = place - std::floor(place);
  const Frame& a = frames_[first];
  const Frame& b = frames_[second];
  Observation& seen = moment.seen;
  seen.at_ms = static_cast<Tick>(t);
  seen.fused = a.fused;
  seen.fixing = a.fixing;
  for (const Eye eye : kBothEyes) {
    const std::size_t i = index_of(eye);
    const auto mix = [&](float EyeFrame::*value) {
      return between(static_cast<double>(a.eye[i].*value), static_cast<double>(b.eye[i].*value),
                     share);
    };
    EyeObservation& e = seen.eye[eye];
    e.horizontal_deg = mix(&EyeFrame::horizontal_deg);
    e.vertical_deg = mix(&EyeFrame::vertical_deg);
    e.torsion_deg = mix(&EyeFrame::torsion_deg);
    e.pupil_mm = mix(&EyeFrame::pupil_mm);
    e.lid_open_fraction = mix(&EyeFrame::lid_open);
    e.listing_deg = mix(&EyeFrame::listing_deg);
    e.covered = a.covered[i];
  }
  return moment;
}

}  // namespace redress::screens::debrief
