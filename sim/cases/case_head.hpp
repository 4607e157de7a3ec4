// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// What a list of cases shows, read out of a case file without reading the rest of it: a folder may
// have ten thousand. Grammar is checked to the end of the file and values are not: a case whose
// numbers contradict each other is found in the list, and refused with its reasons when it is to be
// examined.
#pragma once

#include <string>
#include <string_view>

#include "sim/basics/problem.hpp"

namespace redress {

struct CaseHead {
  std::string title;
  std::string name;  ///< of the patient
  double age_years = 0.0;
  std::string goal;  ///< empty: not said
  int level = 0;     ///< 1 ... 5; 0: not said
  int step = 0;      ///< of the learning path, 1 ... 9; 0: none
};

/// Problems: no JSON, nested deeper than a case is, another format, a newer version.
Result<CaseHead> read_case_head(std::string_view text);

}  // namespace redress
