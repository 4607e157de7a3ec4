// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The list of patients to choose from: who, with what complaint, to practise what; never what is
// there until it was examined.
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <functional>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "render/screens/layout.hpp"
#include "render/screens/parts/parts.hpp"
#include "render/screens/study_bar.hpp"

namespace redress::screens {

struct CaseRow {
  std::string file;  ///< for the application; never shown
  std::string name;
  double age_years = 0;
  std::string complaint;
  std::string goal;  ///< what is practised; empty: an examination from beginning to end
  int level = 0;     ///< 1 ... 5; 0: not said
  int step = 0;      ///< of the path, 1 ... 9; 0: none
  bool own = false;  ///< from the user's own folder
  int times_done = 0;
  std::optional<int> best;  ///< of 100
  std::string last;         ///< "yesterday", "12 Nov"; empty: new
  std::string searched;     ///< what a search looks through; make_searched
};

/// Name, complaint and goal in small letters.
std::string make_searched(const CaseRow& row);

struct CasesModel {
  std::vector<CaseRow> rows;
  bool reading = false;               ///< rows are on their way
  std::string search;                 ///< words that all must be found
  std::size_t filter = 0;             ///< index into kCaseFilters
  int level = 0;                      ///< only this one; 0: any
  int step = 0;                       ///< only what this step of the path practises; 0: any
  std::optional<std::size_t> chosen;  ///< row
  std::string user;                   ///< "Maren Tolle"; empty: not said
  std::string role;                   ///< "student"
  std::string calibration;            ///< "Calibrated 24 November" or that the size is not known
  std::size_t mode = 0;               ///< index into kPracticeModes
  bool writes = false;                ///< the user writes cases
  std::string trouble;                ///< something the user should know; empty: nothing
  /// A texture of 3 : 1; 0: none yet. Asked for rows that are to be seen, and for no others.
  std::function<std::uintptr_t(const CaseRow&)> find_picture;
};

inline constexpr std::string_view kPracticeModes[] = {"Guided", "On my own", "Exam-like"};
inline constexpr std::size_t kExamLikeMode = 2;
inline constexpr std::string_view kCaseFilters[] = {"All cases", "Not done yet", "To do again",
                                                    "My own folder"};

/// How far a step of the path has come.
struct PathStep {
  int cases = 0;  ///< that belong to it
  int firm = 0;   ///< of them done well
};
inline constexpr std::size_t kPathSteps = 9;
std::array<PathStep, kPathSteps> find_path(const CasesModel& model);
/// Index of the step where the learner is; none: every step that has a case is done.
std::optional<std::size_t> find_here(const std::array<PathStep, kPathSteps>& path);

/// Rows that search, filter, level and goal leave, in order.
std::vector<std::size_t> find_shown(const CasesModel& model);

/// How many rows there are under each heading, whatever is searched for.
struct CaseCounts {
  std::array<std::size_t, 4> filters{};  ///< as kCaseFilters
  std::array<std::size_t, 6> levels{};   ///< by level; 0: not said
  std::array<std::size_t, kPathSteps + 1> steps{};
};
CaseCounts count_cases(const CasesModel& model);

struct CasesOutcome {
  std::optional<std::size_t> begin;    ///< this row's patient
  std::optional<std::size_t> show_me;  ///< the reference examiner with this row's patient
  std::optional<std::size_t> choose;
  std::optional<std::size_t> filter;
  std::optional<int> level;  ///< 0: any
  std::optional<int> step;
  std::optional<std::size_t> mode;
  std::optional<StudyTab> tab;
  std::optional<std::size_t> edit;  ///< this row's file
  bool create = false;              ///< a new case
  bool supply = false;              ///< draw patients, packs, another folder
  bool calibrate = false;
  bool change_user = false;
};

CasesOutcome draw_cases(Ui& ui, const StudyLayout& layout, CasesModel& model);

}  // namespace redress::screens
