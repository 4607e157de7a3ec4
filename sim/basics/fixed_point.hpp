// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Numbers as text with a fixed count of decimals, for traces: ten times as fast as printf, and the
// same text on every machine.
#pragma once

#include <cstdint>
#include <string>

namespace redress {

/// Appends `value` rounded to `decimals` places (0 ... 9; halves away from zero). |value| < 1e9.
/// A value that rounds to zero has no sign.
void append_fixed(std::string& text, double value, int decimals);

void append_integer(std::string& text, std::int64_t value);

}  // namespace redress
