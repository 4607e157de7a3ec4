// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The same examination with one habit mended, as acts: later acts wait where something takes longer
// now; nothing else is changed. What the patient then does is simulated (sim/scoring/what_if.hpp).
// Which habits there are is judged by the rubric's own measures, never by the diagnosis.
#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "sim/room/act.hpp"
#include "sim/scoring/examined.hpp"

namespace redress::scoring {

/// In the order in which they are mended together: what comes first in an examination comes first.
enum class Habit : std::uint8_t {
  head_askew,           ///< left as the patient holds it
  wrong_correction,     ///< tested without the glasses that are there to be tested with
  poor_target,          ///< not a detail that either eye resolves, or far larger than that
  head_in_the_way,      ///< the practitioner's, before the target
  alternated_first,     ///< an eye was not covered by itself before the cover was alternated
  peeking,              ///< an eye saw past the occluder's edge
  short_covers,         ///< shorter than this patient needs to show 90 % of it
  short_openings,       ///< the eyes had no time to come back
  prism_before_fixing,  ///< before the eye that fixes, where one eye deviates
  not_reversed,         ///< no prism that reverses the movement
  near_untested,        ///< nothing was covered at near
};
inline constexpr std::array kHabits{
    Habit::head_askew,      Habit::wrong_correction, Habit::poor_target,
    Habit::head_in_the_way, Habit::alternated_first, Habit::peeking,
    Habit::short_covers,    Habit::short_openings,   Habit::prism_before_fixing,
    Habit::not_reversed,    Habit::near_untested};

struct MendedActs {
  std::vector<Act> acts;
  Tick until_ms = 0;
  std::string done;     ///< what was done, a few words: "Covers of 1.2 s"
  std::string instead;  ///< what is done instead: "held for 2.3 s, what this patient needs"
  Tick at_ms = 0;       ///< where it first shows, in the examination as it was done
};

/// Nothing where there is nothing of the kind to mend. `acts` those that `x` was gathered from, up
/// to `until_ms`.
std::optional<MendedActs> mend(Habit habit, const Examined& x, std::span<const Act> acts,
                               Tick until_ms);

}  // namespace redress::scoring
