// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Saccades as they are made, for rows and for the plot of the main sequence.
#pragma once

#include <vector>

#include "sim/evidence/bench.hpp"

namespace redress::evidence {

/// A healthy patient of this age, noise off, looking from one place to the other at 1000 ms.
Trace jump_trace(double from_deg, double to_deg, double vertical_deg, int age_years);

/// The saccade of which this many degrees are made: the target is moved until it is so.
SaccadeMade make_saccade(double size_deg, bool vertical);

/// Latencies to a target that jumps 8 degrees to either side of the middle, noise as usual, ms.
/// Jumps near a blink are left out.
std::vector<double> collect_latencies();

}  // namespace redress::evidence
