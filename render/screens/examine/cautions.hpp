// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Habits of the practitioner's own hands, head and eyes that practice points out while they last.
// They are read off the room alone, never off what the patient's eyes do: nothing is given away.
#pragma once

#include <array>
#include <optional>
#include <string>

#include "sim/basics/units.hpp"
#include "sim/room/room.hpp"

namespace redress::screens::examine {

class Cautions {
 public:
  /// Once a tick, for every tick. What there is to say now; each is said once while it lasts, and
  /// not again within kAgainMs.
  std::optional<std::string> step(Tick now, const RoomState& room, Millimetres interpupillary);

  static constexpr Tick kAgainMs = 20'000;
  static constexpr Tick kOwnEyeLostMs = 4000;
  static constexpr Tick kOccluderStoodMs = 600;
  static constexpr Tick kHeadThereMs = 300;
  static constexpr Tick kHandThereMs = 300;  ///< longer than a lift takes across an eye
  /// From the cornea, mm. Held at 15 to 30; from here on light comes in round the edge (common
  /// practice, no source).
  static constexpr double kTooFarMm = 40.0;

 private:
  struct Lasting {
    Tick since = -1;  ///< -1: not so now
    Tick said = -kAgainMs;
    bool told = false;
  };
  /// True once, when it has lasted.
  static bool has_lasted(Lasting& what, bool is_so, Tick now, Tick for_ms);

  Lasting occluder_;
  Lasting head_;
  PerEye<Lasting> hand_;
  PerEye<Lasting> own_eye_;
};

}  // namespace redress::screens::examine
