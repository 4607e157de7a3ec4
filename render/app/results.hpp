// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// What was examined and how it went: one line a finished examination, in the user's own folder.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

namespace redress::app {

struct DoneExamination {
  std::string case_key;
  std::string date;    ///< "2026-11-24"
  double total = 0;    ///< of 100
  std::string record;  ///< the record's file
  bool operator==(const DoneExamination&) const = default;
};

/// Lines that cannot be read are passed over: a list of what was done is no reason to stop.
std::vector<DoneExamination> parse_results(const std::string& text);
std::string format_result(const DoneExamination& done);

std::vector<DoneExamination> load_results(const std::string& folder);
/// The text is for the user; empty: kept.
std::string add_result(const std::string& folder, const DoneExamination& done);

/// The day in this place's time, "2026-11-24".
std::string find_today();
/// "20261124-101502", for the name of a file.
std::string find_moment();
/// "14:02".
std::string find_clock();
/// "today", "yesterday", "24 Nov", with the year if it is another; "" for what is no date.
std::string describe_date(const std::string& date, const std::string& today);
/// "24 November".
std::string write_day(const std::string& date);

}  // namespace redress::app
