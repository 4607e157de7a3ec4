// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// How long a learner waits for the page What if, of every case that ships. For people: nothing is
// tested by time.
#pragma once

#include <nlohmann/json.hpp>

namespace redress::app {

/// Ten minutes of each patient by an examiner with ordinary faults (covers of 1.2 s, letters two
/// lines too small, glasses left off, no prism that reverses). "debrief": from the record to its
/// first page; "page": from there to What if with every habit mended. By the clock, and the work of
/// all threads together, which does not depend on what else the machine does.
/// {"cases", "minutes", "habits_median", "habits_most", "debrief": {"median_ms", "worst_ms",
/// "processor_median_ms", "processor_worst_ms"}, "page": the same, "worst": by work}
nlohmann::ordered_json time_what_if();

}  // namespace redress::app
