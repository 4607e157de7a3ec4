// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// How somebody practises: with a coach, alone, or as in an examination. Chosen where the patient is
// chosen, shown in the strip, remembered.
#pragma once

#include <cstddef>
#include <cstdint>
#include <string_view>

#include "sim/room/act.hpp"

namespace redress::app {

enum class Mode : std::uint8_t {
  guided,     ///< a coach says what comes next and why; never a finding
  free,       ///< nobody says anything
  exam_like,  ///< no coach, against the clock, the view fixed, the record handed in once
};

struct ModeWords {
  std::string_view name;   ///< as kept
  std::string_view strip;  ///< in the room
  std::string_view brief;  ///< the same in the compact layout
};
inline constexpr ModeWords kModes[] = {{"guided", "Practice, guided", "Guided"},
                                       {"free", "Practice, on my own", "On my own"},
                                       {"exam_like", "Exam-like, view fixed", "Exam-like"}};
[[nodiscard]] constexpr const ModeWords& words_of(Mode mode) {
  return kModes[static_cast<std::size_t>(mode)];
}

/// Of an exam-like run: the middle one of the lengths that stations have, 5, 8 and 10 minutes.
inline constexpr Tick kExamLikeMs = 8 * 60 * 1000;
inline constexpr Tick kLastMinuteMs = 60 * 1000;

}  // namespace redress::app
