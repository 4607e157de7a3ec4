// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The list of patients to choose from: who, with what complaint, to practise what; never what is
// there until it was examined.
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
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
  std::optional<int> best;     ///< of 100
  std::string last;            ///< "yesterday", "12 Nov"; empty: new
  std::uintptr_t picture = 0;  ///< a texture of 3 : 1; 0: none yet
};

struct CasesModel {
  std::vector<CaseRow> rows;
  bool reading = false;  ///< rows are on their way
  std::string search;
  std::size_t filter = 0;             ///< index into kCaseFilters
  std::optional<std::size_t> chosen;  ///< row
  std::string user;                   ///< "Maren Tolle"; empty: not said
  std::string role;                   ///< "student"
  std::string calibration;            ///< "Calibrated 24 November" or that the size is not known
  std::size_t mode = 0;               ///< index into kPracticeModes
  bool writes = false;                ///< the user writes cases
  std::string trouble;                ///< something the user should know; empty: nothing
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

/// Rows that the search and the filter leave, in order.
std::vector<std::size_t> find_shown(const CasesModel& model);

struct CasesOutcome {
  std::optional<std::size_t> begin;    ///< this row's patient
  std::optional<std::size_t> show_me;  ///< the reference examiner with this row's patient
  std::optional<std::size_t> choose;
  std::optional<std::size_t> filter;
  std::optional<std::size_t> mode;
  std::optional<StudyTab> tab;
  std::optional<std::size_t> edit;  ///< this row's file
  bool create = false;              ///< a new case
  bool calibrate = false;
  bool change_user = false;
};

CasesOutcome draw_cases(Ui& ui, const StudyLayout& layout, CasesModel& model);

}  // namespace redress::screens
