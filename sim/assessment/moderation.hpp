// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// What a moderation meeting has before it: each candidate at each station, with the engine's marks
// and the final ones, every assessor's rating and overruling with its reason, what happened at the
// desk, who is to be marked twice, and how many candidates met the same patient (the exposure of
// that question).
#pragma once

#include <cstddef>
#include <map>
#include <span>
#include <string>
#include <utility>

#include "sim/assessment/cohort.hpp"
#include "sim/assessment/results.hpp"

namespace redress::assessment {

/// How many candidates met the patient of a station's seed: by station (from 0) and seed.
using Exposure = std::map<std::pair<std::size_t, std::uint64_t>, std::size_t>;
Exposure count_exposure(const Circuit& circuit, const std::string& circuit_id,
                        std::span<const ScoredStation> stations);

/// CSV, one row for each station that is there, by candidate and station. `figures` of the cohort
/// whose rows are `cohort`; who lacks a station is in the table and is of no decision.
std::string make_moderation_csv(const Circuit& circuit, const std::string& circuit_id,
                                std::span<const ScoredStation> stations,
                                std::span<const Ledger> ledgers, const Cohort& cohort,
                                const CohortFigures& figures);

}  // namespace redress::assessment
