// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include <fmt/format.h>

#include <array>
#include <chrono>
#include <cmath>

#include "render/screens/progress/progress.hpp"

namespace redress::screens {

namespace {

namespace chr = std::chrono;

constexpr double kWorthSayingPd = 0.5;

constexpr std::array<std::string_view, 12> kMonths{"January",   "February", "March",    "April",
                                                   "May",       "June",     "July",     "August",
                                                   "September", "October",  "November", "December"};

std::vector<MonthTick> find_months(const std::vector<ThresholdPoint>& points) {
  std::vector<MonthTick> months;
  if (points.empty()) return months;
  const auto month_of = [](std::int64_t at_s) {
    const chr::sys_days day = chr::floor<chr::days>(chr::sys_seconds{chr::seconds{at_s}});
    const chr::year_month_day date{day};
    return date.year() / date.month();
  };
  const auto last = month_of(points.back().at_s);
  for (auto month = month_of(points.front().at_s); month <= last; month += chr::months{1}) {
    const chr::sys_days first{month / 1};
    months.push_back({chr::duration_cast<chr::seconds>(first.time_since_epoch()).count(),
                      std::string(kMonths[static_cast<unsigned>(month.month()) - 1])});
  }
  return months;
}

void tell_threshold(const progress::History& history, ProgressModel& model) {
  for (const progress::DrillEntry& drill : history.drills) {
    model.thresholds.push_back(
        {drill.at_s, drill.threshold.pd, drill.threshold.low, drill.threshold.high});
  }
  model.months = find_months(model.thresholds);
  if (history.drills.empty()) {
    model.threshold_head = "Your smallest visible movement";
    model.threshold_under = "No drill yet: 40 pairs take four minutes.";
    return;
  }
  const progress::DrillEntry& last = history.drills.back();
  model.threshold_head =
      fmt::format("Your smallest visible movement: {}Δ", say_number(last.threshold.pd));
  const std::string size =
      last.magnification > 0 ? fmt::format(", at {:.1f}× life size", last.magnification) : "";
  model.threshold_under =
      fmt::format("Seen three times in four{}. Bars: 95 % interval of each drill.", size);
}

std::string_view find_habit_words(double small, double large) {
  const auto sign = [](double pd) {
    return pd > kWorthSayingPd ? 1 : pd < -kWorthSayingPd ? -1 : 0;
  };
  const int s = sign(small);
  const int l = sign(large);
  if (s == 0 && l == 0) return "You say sizes about right";
  if (s > 0 && l < 0) return "You say small ones too large, large ones too small";
  if (s < 0 && l > 0) return "You say small ones too small, large ones too large";
  if (s > 0 && l > 0) return "You say sizes too large";
  if (s < 0 && l < 0) return "You say sizes too small";
  if (l == 0) return s > 0 ? "You say small ones too large" : "You say small ones too small";
  return l > 0 ? "You say large ones too large" : "You say large ones too small";
}

void tell_sizes(const progress::History& history, ProgressModel& model) {
  model.answers = progress::find_judged(history.drills);
  model.agreement = progress::find_habit(history.drills);
  const std::size_t n = model.answers.size();
  if (!model.agreement) {
    model.sizes_head = "What you say, and what it is";
    model.sizes_under = n == 0 ? std::string("No answers yet.")
                               : fmt::format("A few answers: {}. A habit shows from {} on.", n,
                                             progress::kLeastAnswers);
    return;
  }
  const progress::Agreement& a = *model.agreement;
  constexpr double kSmall = 2;
  constexpr double kLarge = 15;
  model.sizes_head = find_habit_words(a.calc_excess(kSmall), a.calc_excess(kLarge));
  const auto said = [&](double size) { return say_number(size + a.calc_excess(size)); };
  model.sizes_under = fmt::format(
      "2Δ is called {}Δ; 15Δ is called {}Δ. {} answers. On average {}Δ ({} to {}); 95 % of single "
      "answers lie {} to {}Δ off.",
      said(kSmall), said(kLarge), n, say_number(a.bias.value), say_number(a.bias.low),
      say_number(a.bias.high), say_number(a.lower_limit.value), say_number(a.upper_limit.value));
  if (std::abs(a.calc_excess(kSmall)) > kWorthSayingPd) {
    model.advice =
        "Before judging a size, let the patient look from end to end of the letter line: that is "
        "2Δ. Compare.";
  } else if (std::abs(a.calc_excess(kLarge)) > kWorthSayingPd) {
    model.advice = "Measure large ones with prism before you write them down.";
  }
}

}  // namespace

std::string say_number(double value) {
  const double rounded = std::round(10 * value) / 10;
  if (rounded == 0) return "0";
  return (rounded < 0 ? "−" : "") + fmt::format("{:g}", std::abs(rounded));
}

ProgressModel make_progress(const progress::History& history, std::int64_t now_s) {
  ProgressModel model;
  model.examinations = history.examinations.size();
  tell_threshold(history, model);
  tell_sizes(history, model);
  model.skills = progress::calc_skills(history.examinations, now_s);
  return model;
}

}  // namespace redress::screens
