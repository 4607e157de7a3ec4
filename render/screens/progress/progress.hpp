// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Progress: the smallest visible movement over months, said against true, and which skills are
// firm, each with its interval. The model is made from the history alone; every plot has its
// numbers as a table (F10).
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "render/screens/layout.hpp"
#include "render/screens/parts/parts.hpp"
#include "render/screens/study_bar.hpp"
#include "sim/progress/skills.hpp"

namespace redress::screens {

struct ThresholdPoint {
  std::int64_t at_s = 0;  ///< since 1970
  double pd = 0;
  double low = 0;
  double high = 0;
};

/// A month on the time axis.
struct MonthTick {
  std::int64_t at_s = 0;  ///< its first day
  std::string words;      ///< "June"
};

enum class ProgressPart : std::uint8_t { threshold, sizes, skills };

struct ProgressModel {
  std::string user;
  std::string role;
  std::string trouble;  ///< why nothing is kept, or not all; empty: all is well
  std::vector<ThresholdPoint> thresholds;
  std::vector<MonthTick> months;
  std::string threshold_head;
  std::string threshold_under;
  std::vector<progress::Judged> answers;
  std::optional<progress::Agreement> agreement;  ///< none: too few answers
  std::string sizes_head;
  std::string sizes_under;
  std::string advice;  ///< what to try next; empty: nothing to say yet
  std::vector<progress::Skill> skills;
  std::size_t examinations = 0;

  bool numbers = false;                         ///< as a table
  ProgressPart part = ProgressPart::threshold;  ///< where one stands at a time
  float scrolled = 2000;                        ///< height of what scrolls
};

/// `now_s` seconds since 1970. User, role and trouble are the caller's.
ProgressModel make_progress(const progress::History& history, std::int64_t now_s);

struct ProgressOutcome {
  std::optional<StudyTab> tab;
  bool change_user = false;
  bool train = false;
};
ProgressOutcome draw_progress(Ui& ui, const StudyLayout& layout, ProgressModel& model);

// --- its plots, progress_plots.cpp ---
void draw_thresholds(Ui& ui, const Rect& r, const ProgressModel& model);
void draw_sizes(Ui& ui, const Rect& r, const ProgressModel& model);
void draw_skills(Ui& ui, const Rect& r, const ProgressModel& model, bool one_column);

/// "1.6", "−0.4": one decimal at the most, with a true minus.
std::string say_number(double value);

}  // namespace redress::screens
