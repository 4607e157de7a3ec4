// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Built-in examiners. They sit where a person would and see what a person would: acts go in, the
// face and the answers come out. The acts, run again with the same setup and chance, give the same
// examination.
#pragma once

#include <vector>

#include "sim/examiners/consulting.hpp"
#include "sim/examiners/habits.hpp"
#include "sim/room/examination.hpp"

namespace redress::examiners {

struct Examined {
  std::vector<Act> acts;       ///< in order of time
  Tick until = 0;              ///< when the examiner put the pen down
  std::vector<Reply> replies;  ///< heard
};

/// `exam` must be at time 0, opened with the default target (letters at 6 m): no examiner shows one
/// at 0. It is run to the end of the examination.
Examined examine(Examination& exam, const Habits& habits);

/// The ways of each kind; `examine` chooses by the habits.
void examine_by_the_book(Consulting& room, const Habits& habits);
void examine_at_random(Consulting& room, const Habits& habits);

}  // namespace redress::examiners
