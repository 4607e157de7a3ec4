// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/progress/skills.hpp"

#include <algorithm>
#include <array>
#include <utility>

#include "sim/scoring/rubric.hpp"

namespace redress::progress {

namespace {

constexpr std::array<std::pair<std::string_view, std::string_view>, kShownSkills> kShown{{
    {"B4", "Occluder: the moving eye stays in view"},
    {"B2", "Covers long enough"},
    {"B1", "One eye alone before alternating"},
    {"D2", "Direction"},
    {"D3", "Size within its tolerance"},
    {"D1", "Phoria told from tropia"},
    {"C3", "Reversal looked for"},
    {"A3", "Right distance for the story"},
    {"D5", "Recovery named rightly"},
    {"G3", "How soon"},
}};

bool is_told_beforehand(std::string_view item) {
  return item.starts_with('D') || item.starts_with('E') || item.starts_with('G');
}

Firmness judge(const Skill& skill) {
  if (calc_wilson(skill.chances, skill.chances).low <= kFirmShare) return Firmness::few;
  return skill.share.low > kFirmShare ? Firmness::firm : Firmness::not_yet;
}

}  // namespace

std::vector<Skill> calc_skills(std::span<const ExaminationEntry> examinations, std::int64_t now_s) {
  std::vector<Skill> skills;
  for (const auto& [item, words] : kShown) skills.push_back({std::string(item), words});
  for (const scoring::RubricLine& line : scoring::kRubric) {
    const bool there = std::any_of(skills.begin(), skills.end(),
                                   [&](const Skill& each) { return each.item == line.name; });
    if (!there) skills.push_back({line.name, {}});
  }
  constexpr std::int64_t kDayS = 86'400;
  for (const ExaminationEntry& done : examinations) {
    if (done.at_s < now_s - kRecentDays * kDayS || done.at_s > now_s) continue;
    for (const ItemMark& mark : done.marks) {
      if (mark.max <= 0 || (done.known && is_told_beforehand(mark.item))) continue;
      const auto skill = std::find_if(skills.begin(), skills.end(),
                                      [&](const Skill& each) { return each.item == mark.item; });
      if (skill == skills.end()) continue;
      constexpr double kRounding = 1e-6;
      ++skill->chances;
      if (mark.marks >= mark.max - kRounding) ++skill->taken;
    }
  }
  for (Skill& skill : skills) {
    skill.share = calc_wilson(skill.taken, skill.chances);
    skill.firmness = judge(skill);
  }
  return skills;
}

std::vector<Judged> find_judged(std::span<const DrillEntry> drills) {
  std::vector<Judged> judged;
  for (const DrillEntry& drill : drills) {
    for (const drill::Answered& each : drill.answers) {
      if (each.seen()) judged.push_back({each.shown.size_pd, each.answer.said_pd});
    }
  }
  return judged;
}

std::optional<Agreement> find_habit(std::span<const DrillEntry> drills) {
  const std::vector<Judged> judged = find_judged(drills);
  if (judged.size() < kLeastAnswers) return std::nullopt;
  return calc_agreement(judged);
}

}  // namespace redress::progress
