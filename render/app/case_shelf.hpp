// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The cases that can be examined: read from a folder, with what a learner may know of them before.
#pragma once

#include <nlohmann/json.hpp>
#include <string>
#include <string_view>
#include <vector>

#include "render/app/results.hpp"
#include "render/screens/cases/cases.hpp"
#include "sim/basics/problem.hpp"
#include "sim/cases/case.hpp"
#include "sim/cases/case_head.hpp"

namespace redress::app {

struct ShelvedCase {
  std::string path;
  std::string key;  ///< the file's name without its ending
  Case content;
  nlohmann::json written;  ///< as in the file, for the record
};

/// What the list shows of one file; the rest is read when it is asked for.
struct ShelfEntry {
  std::string path;
  std::string key;  ///< the file's name without its ending
  CaseHead head;
  bool own = false;  ///< from the user's own folder
};

struct CaseShelf {
  std::vector<ShelfEntry> cases;  ///< by step of the path, level, name of the file
  std::string trouble;            ///< files that were not read, for the user; empty: none
};

/// `given` if it is not empty, else REDRESS_CASES of the environment, else scenarios/ beside or
/// above the program, else where the program was built; empty if there is none.
std::string find_cases_folder(const std::string& given, const std::string& program_folder);

/// Every *.json of the folder that says it is a case. 10,000 files are a second's work (measured:
/// redress bench); two threads read many.
CaseShelf read_case_shelf(const std::string& folder);
/// Those of the user's own folder, before the others; a folder that is not there has none.
void add_own_cases(CaseShelf& shelf, const std::string& folder);
/// What the page of cases shows of them.
std::vector<screens::CaseRow> make_case_rows(const CaseShelf& shelf,
                                             const std::vector<DoneExamination>& done);
/// One file, whole and checked.
Result<ShelvedCase> read_shelved_case(const std::string& path);

}  // namespace redress::app
