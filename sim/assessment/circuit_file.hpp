// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// A circuit as a file: format "redress-circuit", version 1. Reading is strict: every problem is
// listed with its place. Described for editors by scenarios/circuit.schema.json.
#pragma once

#include <span>
#include <string_view>

#include <nlohmann/json.hpp>

#include "sim/assessment/circuit.hpp"
#include "sim/basics/json_reader.hpp"
#include "sim/basics/problem.hpp"

namespace redress::assessment {

inline constexpr std::string_view kCircuitFormat = "redress-circuit";
inline constexpr int kCircuitVersion = 1;

Result<Circuit> parse_circuit(const nlohmann::json& json);
/// parse_json and parse_circuit.
Result<Circuit> read_circuit_text(std::string_view text);
/// Every value written out; parse_circuit of it gives the same circuit.
nlohmann::ordered_json to_json(const Circuit& circuit);

/// The words of the format.
std::span<const NamedValue<Instrument>> instrument_names();
std::span<const NamedValue<Procedure>> procedure_names();
std::span<const NamedValue<StandardMethod>> standard_names();

}  // namespace redress::assessment
