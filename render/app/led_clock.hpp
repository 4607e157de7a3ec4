// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The time of a window that somebody leads: it stands until a line of a pipe says how many
// milliseconds it goes on. For tests of the real window with real events: what the hands do then
// has times of its own, the same on every machine, and a patient's minute takes no longer than the
// machine needs for it.
#pragma once

#include <string>

namespace redress::app {

class LedClock {
 public:
  /// `path`: of a pipe, or of a file that is there. Throws std::runtime_error.
  explicit LedClock(const std::string& path);
  ~LedClock();
  LedClock(const LedClock&) = delete;
  LedClock& operator=(const LedClock&) = delete;

  /// Takes in what was told since: whole lines, each a number of ms, 0 or more. Throws
  /// std::runtime_error for a line that is none.
  void listen();
  /// Goes on by a frame, or by what is left. False: it stands.
  bool go_on();
  [[nodiscard]] double now_ms() const { return now_ms_; }
  /// Nothing is left of what it was told.
  [[nodiscard]] bool stands() const { return now_ms_ >= until_ms_; }

 private:
  int pipe_ = -1;
  std::string line_;  // what of the next has come
  double now_ms_ = 0;
  double until_ms_ = 0;
};

}  // namespace redress::app
