// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The two clocks of this machine that an assessment needs (sim/assessment/clocks.hpp).
#pragma once

#include <cstdint>
#include <string>

#include "sim/assessment/clocks.hpp"

namespace redress::app {

/// The time of day, and the clock that nobody sets and that counts while the machine sleeps.
assessment::ClockReading read_machine_clocks();

/// "2026-11-28 11:04:09" by this machine's time zone.
std::string write_local_time(std::int64_t utc_ms);

}  // namespace redress::app
