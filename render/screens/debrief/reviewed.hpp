// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// A record read and simulated once, with the truth beside it: the debrief shows it, and the page
// What if goes on from its states.
#pragma once

#include <memory>
#include <string_view>
#include <vector>

#include "render/screens/debrief/playback.hpp"
#include "sim/basics/problem.hpp"
#include "sim/cases/case.hpp"
#include "sim/room/act.hpp"
#include "sim/room/examination.hpp"
#include "sim/scoring/what_if.hpp"
#include "sim/truth/truth.hpp"

namespace redress::screens::debrief {

/// Stays where it is: the states refer to the setup.
struct Reviewed {
  Case the_case;
  ExaminationSetup setup;
  Chance chance;
  std::vector<Act> acts;
  Tick last = 0;
  truth::Truth truth;  ///< as far as what was written asks for it
  scoring::AsDone as_done;
};

/// Refused with reasons where the record is altered, newer or not complete, or its case is refused.
/// `playback`: filled, if there is one.
redress::Result<std::shared_ptr<const Reviewed>> review_record(std::string_view record_text,
                                                               Playback* playback = nullptr);

/// All of them, on as many threads as the machine has processors.
void run_side_by_side(std::vector<scoring::Job>& jobs);

}  // namespace redress::screens::debrief
