// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The cases that can be examined: read from a folder, with what a learner may know of them before.
#pragma once

#include <nlohmann/json.hpp>
#include <string>
#include <string_view>
#include <vector>

#include "sim/basics/problem.hpp"
#include "sim/cases/case.hpp"

namespace redress::app {

struct ShelvedCase {
  std::string path;
  std::string key;  ///< the file's name without its ending
  Case content;
  nlohmann::json written;  ///< as in the file, for the record; of a list: null
  std::string goal;        ///< what is practised, without naming what is there
  int level = 0;           ///< 1 ... 5; 0: not said
  int step = 0;            ///< of the learning path, 1 ... 9; 0: none
  bool own = false;        ///< from the user's own folder
};

struct CaseShelf {
  std::vector<ShelvedCase> cases;  ///< by step of the path, level, name of the file
  std::string trouble;             ///< files that were not read, for the user; empty: none
};

/// `given` if it is not empty, else REDRESS_CASES of the environment, else scenarios/ beside or
/// above the program, else where the program was built; empty if there is none.
std::string find_cases_folder(const std::string& given, const std::string& program_folder);

/// Every *.json of the folder that says it is a case.
CaseShelf read_case_shelf(const std::string& folder);
/// Those of the user's own folder, before the others; a folder that is not there has none.
void add_own_cases(CaseShelf& shelf, const std::string& folder);
/// One file.
Result<ShelvedCase> read_shelved_case(const std::string& path);

}  // namespace redress::app
