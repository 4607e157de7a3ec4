// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// A cohort's marks as CSV, to be merged again: what shards of a rehearsal leave behind. One row a
// candidate and station: candidate, station (from 1), marks, unsafe, finished, rating, and the
// share earned of each rubric item (empty: not needed). Header row; LF.
#pragma once

#include <string>
#include <string_view>

#include "sim/assessment/cohort.hpp"
#include "sim/basics/problem.hpp"

namespace redress::assessment {

std::string make_marks_csv(const Cohort& cohort);

/// Adds the rows to a cohort whose circuit is set. Problems: "line 12"; a candidate who is there
/// already; one who lacks a station. Then nothing is added.
Problems add_marks_csv(std::string_view text, Cohort& cohort);

/// By candidate.
void sort_rows(Cohort& cohort);

}  // namespace redress::assessment
