// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Asking for a passphrase, and opening a sealed circuit with it.
#pragma once

#include <string>

#include "sim/assessment/locked_bytes.hpp"
#include "sim/assessment/sealed_circuit.hpp"
#include "sim/basics/problem.hpp"

namespace redress::program {

/// One line of standard input; on a terminal it is not shown.
assessment::LockedBytes ask_passphrase();

/// Hardens the process first. A wrong one: the next try comes after a wait, and nothing more is
/// said. Standard input that has ended gives up.
Result<assessment::OpenedCircuit> open_with_passphrase(const std::string& path);

}  // namespace redress::program
