// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// From the time of frames to ticks of 1 ms. Whole microseconds inside: however a stretch of time is
// cut into frames, the ticks at its end are the same.
#pragma once

#include <cstdint>

namespace redress::app {

class FrameClock {
 public:
  /// Longest stretch that is made up for at once; what is longer is left out (a machine that slept
  /// must not make the patient wait through the night).
  static constexpr std::int64_t kMostCaughtUpUs = 2'000'000;

  struct Due {
    std::int64_t now_tick = 0;  ///< ticks that have begun since the start
    double share = 0;           ///< of the tick that runs, 0 ... below 1
    bool slipped = false;       ///< time was left out
  };

  /// Time in ms on any steady clock. A time before the last counts as the last.
  Due advance(double now_ms);
  /// The time from here to resume() does not count.
  void pause(double now_ms);
  void resume(double now_ms);
  [[nodiscard]] bool paused() const { return paused_; }
  /// To which tick (fraction left out) a time of the same clock belongs; for events.
  [[nodiscard]] std::int64_t tick_at(double at_ms) const;

 private:
  [[nodiscard]] Due due(bool slipped) const;

  bool started_ = false;
  bool paused_ = false;
  std::int64_t last_us_ = 0;
  std::int64_t passed_us_ = 0;
};

}  // namespace redress::app
