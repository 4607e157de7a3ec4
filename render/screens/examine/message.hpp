// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The one line above the shelf: what was said last, a caution or a fault. Replaced, not scrolled.
// Words that are not speech or a fault wait until the occluder has been at rest for 600 ms, because
// nothing may draw the eye while a movement is watched. What was asked and answered is kept.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "sim/room/act.hpp"

namespace redress::screens::examine {

enum class Voice : std::uint8_t { patient, note, caution, fault };

struct Said {
  Tick at_ms = 0;
  Voice voice = Voice::note;
  bool at_once = false;  ///< about the hand itself: not held back
  std::string strong;    ///< said first and louder: "Disk full."
  std::string words;     ///< speech without its quotation marks
  bool operator==(const Said&) const = default;
};

/// A question or an instruction with what came back.
struct Exchange {
  Tick at_ms = 0;
  std::string asked;
  std::string answered;  ///< empty: not yet, or nothing to be answered
};

class MessageLine {
 public:
  static constexpr Tick kRestMs = 600;
  static constexpr Tick kShownMs = 8000;  ///< then the line is empty again

  /// Speech and faults are shown at once, the rest when the occluder rests. A fault comes back when
  /// what was said after it has been shown.
  void say(Said said);
  void ask(Tick at, std::string words);
  void answer(Tick at, const std::string& asked, std::string words);
  /// Once a tick.
  void step(Tick now, bool occluder_moves);

  [[nodiscard]] const std::optional<Said>& shown() const { return shown_ ? shown_ : fault_; }
  [[nodiscard]] const std::vector<Exchange>& talk() const { return talk_; }

 private:
  std::optional<Said> shown_;
  std::optional<Said> waiting_;
  std::optional<Said> fault_;
  std::vector<Exchange> talk_;
  Tick moved_at_ = -kRestMs;
};

}  // namespace redress::screens::examine
