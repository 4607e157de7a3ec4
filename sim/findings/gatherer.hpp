// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Gathers evidence row by row; see sim/findings/evidence.hpp. Who runs an examination tick by tick
// calls row(), then act() for each act of that tick, and finish() once at the end. Can be copied:
// a copy goes on from there.
#pragma once

#include <cstddef>
#include <optional>
#include <vector>

#include "sim/findings/approach_watch.hpp"
#include "sim/findings/evidence.hpp"
#include "sim/findings/movements.hpp"
#include "sim/room/room.hpp"

namespace redress::findings {

class Gatherer {
 public:
  explicit Gatherer(const ExaminationSetup& setup);

  /// The row of this tick, and the room as it stands, before the acts of the tick.
  void row(const Observation& row, const RoomState& room);
  /// An act, and the room after it.
  void act(const Act& act, const RoomState& room);
  /// What the patient says, as it is said.
  void reply(const Reply& reply);
  Evidence finish();
  /// While it goes on: covers that are on, movements and what is measured at the end are not in it
  /// yet.
  [[nodiscard]] const Evidence& so_far() const { return evidence_; }

 private:
  struct View {  // an eye that should be seen for a while
    std::size_t span = 0;
    Eye eye = Eye::right;
    bool on_cover = false;
    Tick from_ms = 0;
    Tick seen_ms = 0;
  };
  struct Trial {  // a four-dioptre presentation being watched
    std::size_t index = 0;
    PerEye<double> start_deg{};
    double furthest_fellow_deg = 0.0;
    bool version = false;
  };

  [[nodiscard]] Setting setting_of(const RoomState& room) const;
  void follow_covers(const Observation& row, const RoomState& room);
  void begin_cover(Eye eye, const Observation& row, const RoomState& room);
  void end_cover(Eye eye, Tick now);
  void follow_peeking(const Observation& row, const RoomState& room);
  void follow_setting(const Observation& row, const RoomState& room);
  void follow_opening(const Observation& row, const RoomState& room);
  void follow_views(const Observation& row, const RoomState& room);
  void follow_trial(const Observation& row, const RoomState& room);
  void change_prisms(Tick now, const RoomState& room);
  void begin_trial(const act::HoldPrism& hold, Tick now, const RoomState& room);

  const ExaminationSetup& setup_;
  Evidence evidence_;
  MovementFinder finder_;
  ApproachWatch approach_watch_;
  PerEye<std::optional<std::size_t>> covering_{};  // index into covers
  std::optional<std::size_t> last_span_;           // ended last, both free since
  std::vector<Setting> alternated_;                // settings with an alternating sequence so far
  std::vector<View> views_;
  LookedAt looked_at_;
  PerEye<std::optional<Tick>> peeking_since_{};
  std::optional<Trial> trial_;
  bool prism_open_ = false;
  Observation last_;
};

}  // namespace redress::findings
