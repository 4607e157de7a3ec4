// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Everything that a store has of a circuit, scored: what has no score yet is simulated once and its
// score kept, the rest is read.
#pragma once

#include <cstddef>
#include <functional>
#include <string>
#include <vector>

#include "sim/assessment/results.hpp"
#include "sim/assessment/sealed_circuit.hpp"
#include "sim/assessment/store.hpp"
#include "sim/assessment/work_spread.hpp"
#include "sim/basics/problem.hpp"

namespace redress::assessment {

struct ScoredStore {
  std::vector<ScoredStation> stations;  ///< by candidate, station, id
  Problems left_out;                    ///< cannot be scored: "candidate 0417, station 4" and why
};

/// Scores what has no score yet and keeps it, some dozens at a time; reads the rest. The result
/// does not depend on how the work is spread. Problems: of the store itself.
Result<ScoredStore> score_store(Store& store, const OpenedCircuit& circuit,
                                const WorkSpread& spread = {});

}  // namespace redress::assessment
