// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// What a circuit samples: procedure by condition by urgency, so that nothing is asked four times
// and nothing important never.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "sim/assessment/circuit.hpp"
#include "sim/cases/case.hpp"

namespace redress::assessment {

/// One cell that is not empty.
struct BlueprintCell {
  Procedure procedure = Procedure::history;
  std::string condition;           ///< the case's expected diagnosis; "not said" without one
  std::optional<Urgency> urgency;  ///< none: the case says none
  std::vector<std::size_t> stations;
};

/// What a station's patient is there for.
struct StationCondition {
  std::size_t station = 0;
  std::string condition;
  std::optional<Urgency> urgency;
  bool red_flag = false;
};

/// Cells in order of procedure, then of the station that comes first.
std::vector<BlueprintCell> make_blueprint(const Circuit& circuit,
                                          const std::vector<StationCondition>& conditions);

/// "same day", "urgent", "soon", "routine" or "not said".
std::string to_words(const std::optional<Urgency>& urgency);

}  // namespace redress::assessment
