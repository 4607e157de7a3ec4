// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Circuits from disk: the file, and the patients that it names, read from its folder or drawn.
#pragma once

#include <string>
#include <vector>

#include "sim/assessment/circuit.hpp"
#include "sim/assessment/form.hpp"
#include "sim/basics/problem.hpp"

namespace redress::program {

Result<assessment::Circuit> load_circuit(const std::string& path);

/// Whether a file says that it is a circuit, as one does that is damaged. Cases and other files
/// that lie in the same folder do not.
bool is_circuit_file(const std::string& path);

/// Reads case files from the folder of `circuit_path`, draws families with the generator.
assessment::FindPatient patients_beside(const std::string& circuit_path);

/// All stations' forms, by station; rests have none.
Result<std::vector<std::vector<assessment::Form>>> load_forms(
    const assessment::Circuit& circuit, const assessment::FindPatient& find_patient);

}  // namespace redress::program
