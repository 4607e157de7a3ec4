// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Which skills are firm. Each finished examination is one chance for each item of the rubric that
// its case needs; the chance is taken with full marks. Where what the patient has was shown before,
// finding, naming and acting on it is no chance any more, handling and order still are.
#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "sim/progress/history.hpp"
#include "sim/progress/statistics.hpp"

namespace redress::progress {

inline constexpr std::int64_t kRecentDays = 60;
/// A skill is firm when its whole interval lies above this. Judgement.
inline constexpr double kFirmShare = 0.70;

enum class Firmness : std::uint8_t {
  few,  ///< so few chances that it could not be firm if all had been taken
  not_yet,
  firm,
};

struct Skill {
  std::string item;        ///< of the rubric
  std::string_view words;  ///< in plain words; empty: not among those that the screen shows
  std::size_t chances = 0;
  std::size_t taken = 0;
  Interval share{};  ///< 0 ... 1
  Firmness firmness = Firmness::few;
};

/// Of the last kRecentDays before `now_s`: first the ten in plain words, in the order of the
/// screen, then every other item of the rubric.
std::vector<Skill> calc_skills(std::span<const ExaminationEntry> examinations, std::int64_t now_s);
inline constexpr std::size_t kShownSkills = 10;

/// What was said about movements that were seen.
std::vector<Judged> find_judged(std::span<const DrillEntry> drills);

/// The habit as it can be applied to a size: none below this many answers.
inline constexpr std::size_t kLeastAnswers = 20;  // judgement
std::optional<Agreement> find_habit(std::span<const DrillEntry> drills);

}  // namespace redress::progress
