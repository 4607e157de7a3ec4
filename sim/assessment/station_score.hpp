// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// What a kept station scores, as the store keeps it, so that a report need not simulate again:
// items in the rubric's order, caps, and the sizes that were measured.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "sim/assessment/cohort.hpp"
#include "sim/assessment/kept_station.hpp"
#include "sim/assessment/sealed_circuit.hpp"
#include "sim/basics/problem.hpp"
#include "sim/room/examination.hpp"
#include "sim/scoring/score.hpp"
#include "sim/truth/truth.hpp"

namespace redress::assessment {

struct StationScore {
  scoring::ScoreSheet sheet;  ///< total, items' marks, caps' limits and unsafe; no words
  bool finished = true;       ///< handed in before the hard stop
  std::vector<SizePair> sizes;
  int resumptions = 0;        ///< after a crash
  int left_window = 0;        ///< how often
  Tick out_of_window_ms = 0;  ///< as the events tell
  int clock_faults = 0;       ///< times of day that do not go together (sim/assessment/clocks.hpp)
  Tick stood_still_ms = 0;
  /// Time of day of the first event and of the last, ms since 1970 UTC; 0: not known.
  std::int64_t began_utc_ms = 0;
  std::int64_t ended_utc_ms = 0;
};

/// What every candidate with this form is held against, simulated once.
struct ScoringForm {
  ExaminationSetup setup;
  truth::Truth truth;
};
ScoringForm prepare_scoring(const Form& form);
/// By station and form, as in OpenedCircuit.
using ScoringForms = std::vector<std::vector<ScoringForm>>;

/// Simulates the record once. A station that was cut short is scored as far as it goes. Problems:
/// it is not of this circuit, or its record is not of the patient that was sealed.
/// With `prepared` the truth is not simulated again.
Result<StationScore> score_station(std::string_view content, const OpenedCircuit& circuit,
                                   const ScoringForms* prepared = nullptr);

std::string to_text(const StationScore& score);
Result<StationScore> parse_station_score(std::string_view text);

}  // namespace redress::assessment
