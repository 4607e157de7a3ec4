// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// What was seen during an examination, kept for drawing: every kFrameMs a row of the trace, the
// occluder where it moved, the rest of the room where it changed. A moment between two frames is
// interpolated. Ten minutes take about 10 MB.
#pragma once

#include <array>
#include <cstdint>
#include <utility>
#include <vector>

#include "render/screens/examine/live_examination.hpp"
#include "sim/basics/eye.hpp"
#include "sim/room/act.hpp"
#include "sim/room/observation.hpp"
#include "sim/room/room.hpp"

namespace redress::screens::debrief {

/// A saccade of 40 ms keeps ten frames.
inline constexpr Tick kFrameMs = 4;

class Playback {
 public:
  /// A row of the trace and the room as it stood; rows in order, one each millisecond, the first
  /// at 0 or another multiple of kFrameMs.
  void row(const Observation& seen, const RoomState& room);
  /// After an act that changed something else than the occluder.
  void keep_room(Tick at_ms, const RoomState& room);

  /// A stretch by itself, so that the rest can be let go. Times stay what they are.
  [[nodiscard]] Playback cut(double from_ms, double to_ms) const;

  /// Of the last row.
  [[nodiscard]] Tick end_ms() const { return end_ms_; }
  /// Eyes, occluder and room at a time, brought within what was recorded.
  [[nodiscard]] examine::Moment moment_at(double at_ms) const;
  /// Sight line against the direction in which the target appears to that eye, prism dioptres, + to
  /// the patient's right or up; NaN while the lids are shut. One value every kFrameMs from 0
  /// (of a stretch, and where rows began later: from there).
  [[nodiscard]] const std::vector<float>& horizontal_pd(Eye eye) const { return across_[eye]; }
  [[nodiscard]] const std::vector<float>& vertical_pd(Eye eye) const { return up_[eye]; }

 private:
  struct EyeFrame {
    float horizontal_deg = 0;
    float vertical_deg = 0;
    float torsion_deg = 0;
    float pupil_mm = 0;
    float lid_open = 0;
    float listing_deg = 0;
  };
  struct Frame {
    std::array<EyeFrame, 2> eye;
    std::array<bool, 2> covered{};
    bool fused = false;
    WhichEyes fixing = WhichEyes::both;
  };
  struct OccluderAt {
    Tick at_ms = 0;
    optics::OccluderPose pose;
    OccluderKind kind = OccluderKind::opaque;
    bool before_face = false;
  };

  void keep_occluder(Tick at_ms, const OccluderState& occluder);
  void put_occluder(double at_ms, RoomState& room) const;

  std::vector<Frame> frames_;
  PerEye<std::vector<float>> across_;
  PerEye<std::vector<float>> up_;
  std::vector<OccluderAt> occluder_;
  std::vector<std::pair<Tick, RoomState>> rooms_;
  Tick first_ms_ = 0;  // of the first frame
  Tick end_ms_ = 0;
};

}  // namespace redress::screens::debrief
