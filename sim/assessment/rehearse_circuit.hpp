// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// A whole circuit tried with simulated practitioners: for the command line, which has shards on
// several machines, and for who composes in the window. What comes out does not depend on how the
// work is spread.
#pragma once

#include <cstdint>
#include <functional>
#include <vector>

#include "sim/assessment/cohort.hpp"
#include "sim/assessment/practitioner.hpp"
#include "sim/assessment/rehearsal.hpp"
#include "sim/assessment/work_spread.hpp"

namespace redress::assessment {

/// By station and form; none for a rest. `forms` likewise. The pieces are single examinations: of
/// like length, so that no processor waits long for the last one.
std::vector<std::vector<PreparedForm>> prepare_circuit(const Circuit& circuit,
                                                       const std::vector<std::vector<Form>>& forms,
                                                       const WorkSpread& spread);

/// Candidates first, first + step ... below `candidates`: a shard of the cohort, or all of it.
struct RehearsalPlan {
  std::uint64_t candidates = 0;
  SkillMix mix{0.0, 1.0, 0.0};
  std::uint64_t seed = 1;
  std::uint64_t first = 0;
  std::uint64_t step = 1;
};

/// `stations`: each station's forms, as prepare_circuit gives them; of a rest nothing. `goes_on`,
/// if given, is asked before each candidate, on any thread; where it says no, the cohort is empty.
Cohort send_through(const Circuit& circuit,
                    const std::vector<const std::vector<PreparedForm>*>& stations,
                    const RehearsalPlan& plan, const WorkSpread& spread,
                    const std::function<bool()>& goes_on = {});

}  // namespace redress::assessment
