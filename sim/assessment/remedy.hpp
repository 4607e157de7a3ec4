// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// What a check of a circuit proposes, done: the remedies of sim/assessment/check_circuit.hpp that a
// program can carry out. The others are for a person to decide.
#pragma once

#include <optional>

#include "sim/assessment/check_circuit.hpp"
#include "sim/assessment/circuit.hpp"

namespace redress::assessment {

/// The station that a concern is about; none: the whole circuit.
std::optional<std::size_t> find_station(const Concern& concern);

/// The circuit with the concern's remedy; nothing if it needs a person. `check` is what the concern
/// comes from.
std::optional<Circuit> apply_remedy(const Circuit& circuit, const CircuitCheck& check,
                                    const Concern& concern);

}  // namespace redress::assessment
