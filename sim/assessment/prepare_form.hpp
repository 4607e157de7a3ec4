// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// A form prepared in pieces that do not know each other, for who has several processors: its truth
// and each habit's examination in any order, then the form from all of them. prepare_form
// (sim/assessment/rehearsal.hpp) does it at once.
#pragma once

#include <array>
#include <vector>

#include "sim/assessment/rehearsal.hpp"

namespace redress::assessment {

/// The first one without a fault.
inline constexpr std::array kTriedFaults{
    examiners::Fault::none, examiners::Fault::short_covers, examiners::Fault::no_near_test,
    examiners::Fault::wrong_base, examiners::Fault::letter_too_small};

struct TriedHabit {
  HabitRun run;
  Tick until_ms = 0;  ///< when the pen was put down
  std::vector<Instrument> used;
};

/// Without truth and runs.
PreparedForm begin_form(Form form);
truth::Truth find_truth(const PreparedForm& begun);
TriedHabit try_habit(const PreparedForm& begun, examiners::Fault fault);
/// `tried` as kTriedFaults, the first at the least.
void finish_form(const Station& station, truth::Truth truth, std::vector<TriedHabit> tried,
                 PreparedForm& form);

}  // namespace redress::assessment
