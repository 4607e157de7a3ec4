// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// From what is in the store to a cohort.
#pragma once

#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "sim/assessment/cohort.hpp"
#include "sim/assessment/marks.hpp"
#include "sim/assessment/station_score.hpp"
#include "sim/assessment/store.hpp"

namespace redress::assessment {

struct ScoredStation {
  StoredStation station;
  StationScore score;
};

struct GatheredCohort {
  Cohort cohort;
  std::vector<std::string> remarks;  ///< who is left out and why, what a person must decide
};

/// The one of a candidate's copies of a station that is counted; null: there is none.
const ScoredStation* find_counted(std::span<const ScoredStation> stations,
                                  std::string_view candidate, std::size_t station);

/// Of several for one candidate and station the whole one counts, else the one that went on for
/// longest; it is told. A candidate who lacks a station is left out, and told. `stations` in any
/// order.
GatheredCohort gather_cohort(const Circuit& circuit, std::vector<ScoredStation> stations,
                             std::span<const Ledger> ledgers);

}  // namespace redress::assessment
