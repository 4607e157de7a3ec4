// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// A circuit tried by the engine before anybody sits it: can each station be done in its time and
// with its instruments, do parallel forms weigh alike, how hard is it.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "sim/assessment/blueprint.hpp"
#include "sim/assessment/circuit.hpp"
#include "sim/assessment/rehearsal.hpp"

namespace redress::assessment {

struct FormCheck {
  std::uint64_t seed = 1;
  double reference_marks = 0.0;
  Tick reference_ms = 0;
  std::vector<Instrument> not_allowed;  ///< that the reference examiner used
  // Of simulated candidates; none if nobody was sent through.
  std::optional<double> mean_marks;
  std::optional<double> share_passing;
  std::optional<double> share_finishing;
};

struct StationCheck {
  std::size_t station = 0;
  std::vector<FormCheck> forms;
};

/// Something that an assessor should look at.
struct Concern {
  std::string place;   ///< JSON pointer into the circuit
  bool wrong = false;  ///< true: it must not be run so; false: look at it
  std::string what;
  std::string remedy;
};

struct CircuitCheck {
  std::vector<StationCheck> stations;
  std::vector<BlueprintCell> blueprint;
  std::vector<Concern> concerns;
};

/// Candidates that a check sends through each form, none of them twice the same.
struct TrialRun {
  std::uint64_t candidates = 0;  ///< 0: the reference examiner alone
  SkillMix mix{0.0, 1.0, 0.0};
  std::uint64_t seed = 1;
};

/// Whole minutes in which the reference examiner has time to spare.
std::int64_t calc_time_to_give_s(Tick reference_ms);

/// One station. `forms` as prepared with faults if candidates are to be sent.
StationCheck check_station(const Circuit& circuit, std::size_t station,
                           const std::vector<PreparedForm>& forms, const TrialRun& trial);
StationCondition find_condition(std::size_t station, const Form& form);
/// Puts stations together and says what does not fit.
CircuitCheck check_circuit(const Circuit& circuit, std::vector<StationCheck> stations,
                           const std::vector<StationCondition>& conditions);

}  // namespace redress::assessment
