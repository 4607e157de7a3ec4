// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// G2 of the rubric: plan and advice, by the parts of the vocabulary of plans
// (sim/room/plan_part.hpp), chosen from the list or read from free words.
#include <algorithm>

#include <fmt/format.h>

#include "sim/findings/plan_words.hpp"
#include "sim/scoring/items.hpp"

namespace redress::scoring {

using findings::WrittenFinding;

namespace {

constexpr double kFarAwayWeeks = 20.0;  // "see in 6 months", rubric, rule 4

// That nothing speaks against driving is no advice to somebody who must not.
bool holds(const Finding& plan, PlanPart part) {
  if (part == PlanPart::driving && plan.driving) return *plan.driving != Driving::no_bar;
  return findings::has_part(plan, part);
}

bool is_empty(const Finding& plan) {
  return plan.parts.empty() && !plan.driving && !plan.next_weeks &&
         std::none_of(plan.advice.begin(), plan.advice.end(),
                      [](char c) { return c != ' ' && c != '.'; });
}

bool waits_for_months(const Finding& plan) {
  if (plan.next_weeks.value_or(0.0) >= kFarAwayWeeks) return true;
  return plan.advice.find("6 months") != std::string::npos ||
         plan.advice.find("six months") != std::string::npos;
}

// The parts that the case says do harm.
const PlanPart* find_harmful_part(const Examined& x, const Finding& plan) {
  const auto& harmful = x.the_case.expected.harmful;
  const auto it = std::find_if(harmful.begin(), harmful.end(),
                               [&](PlanPart part) { return holds(plan, part); });
  return it == harmful.end() ? nullptr : &*it;
}

std::string in_words(const std::vector<PlanPart>& parts) {
  std::string words;
  for (const PlanPart part : parts) {
    if (!words.empty()) words += " or ";
    words += findings::term_of(part).label;
  }
  return words;
}

// Somebody of driving age who sees two now: not to drive until it is controlled (both countries
// whose rules were read, practice B16; the law is the country's). Where the case does not say.
bool needs_driving_advice(const Examined& x) {
  constexpr double kDrivingAge = 17.0;
  const bool soon = x.the_case.expected.urgency == Urgency::same_day ||
                    x.the_case.expected.urgency == Urgency::urgent;
  const Place& six = x.places.front();
  return soon && x.the_case.patient.age_years >= kDrivingAge &&
         six.there.right.manifest != truth::Manifest::none &&
         x.truth.suppression_eye == WhichEyes::none;
}

std::vector<std::vector<PlanPart>> find_key_parts(const Examined& x) {
  std::vector<std::vector<PlanPart>> key = x.the_case.expected.plan;
  if (key.empty() && needs_driving_advice(x)) key.push_back({PlanPart::driving});
  return key;
}

// Without key parts any plan does; with driving alone, which nobody wrote down, half.
void mark_parts(const Examined& x, const Finding& plan, Mark& mark) {
  const auto key = find_key_parts(x);
  std::size_t held = 0;
  for (const std::vector<PlanPart>& parts : key) {
    const bool there =
        std::any_of(parts.begin(), parts.end(), [&](PlanPart part) { return holds(plan, part); });
    if (there) ++held;
    if (!there) mark.why += fmt::format("Not in the plan: {}. ", in_words(parts));
  }
  if (held == key.size()) {
    mark.share = 1.0;
    mark.why = key.empty() ? "A plan with advice." : "All that this patient needs is in the plan.";
  } else {
    const bool half = x.the_case.expected.plan.empty() || 2 * held >= key.size();
    mark.share = half ? 0.5 : 0.0;
  }
}

}  // namespace

// Exercises, prism or a date far away are harm in the place of help, not beside it: who sends the
// patient somewhere, and as soon as the case asks, does none.
bool is_harmful(const Examined& x) {
  const WrittenFinding* entry = find_last(x, FindingTest::plan);
  if (!x.the_case.expected.red_flag || entry == nullptr) return false;
  const auto urgency = find_urgency(x);
  const bool in_time = urgency && x.the_case.expected.urgency &&
                       steps_too_slow(urgency->step, *x.the_case.expected.urgency) <= 0;
  const Finding& plan = entry->finding;
  if (in_time && findings::refers(plan)) return false;
  return holds(plan, PlanPart::exercises) || holds(plan, PlanPart::prism) ||
         waits_for_months(plan) || find_harmful_part(x, plan) != nullptr;
}

Mark mark_plan(const Examined& x) {
  const WrittenFinding* entry = find_last(x, FindingTest::plan);
  if (entry == nullptr) return {0.0, false, "No plan was written.", {}};
  const Finding& plan = entry->finding;
  Mark mark;
  mark.evidence.push_back({entry->at_ms, "plan: " + findings::write_plan(plan)});
  const PlanPart* harm = find_harmful_part(x, plan);
  if (is_harmful(x) || harm != nullptr) {
    mark.why = harm == nullptr
                   ? "This plan would do harm here."
                   : fmt::format("{} would do harm here.", findings::term_of(*harm).label);
    return mark;
  }
  if (is_empty(plan)) {
    mark.why = "A plan without anything in it.";
    return mark;
  }
  mark_parts(x, plan, mark);
  // Referral on the history alone is sound where there is a red flag.
  const bool rests = x.the_case.expected.red_flag ||
                     std::any_of(x.places.begin(), x.places.end(), has_class_evidence);
  if (!rests && mark.share > 0.0) {
    mark.share = 0.5;
    mark.why = "Advice that rests on no finding.";
  }
  return mark;
}

}  // namespace redress::scoring
