// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/scoring/score.hpp"

#include <algorithm>
#include <utility>

#include <fmt/format.h>

#include "sim/findings/evidence.hpp"
#include "sim/findings/plan_words.hpp"
#include "sim/scoring/items.hpp"

namespace redress::scoring {

using findings::WrittenFinding;

namespace {

constexpr double kUnsafeLimit = 39.0;
constexpr double kNoCoverUncoverLimit = 59.0;
constexpr double kFalseAlarmLimit = 79.0;
constexpr int kIntegrityFrom = 3;

double one_decimal(double x) {
  return static_cast<double>(static_cast<int>(x * 10.0 + 0.5)) / 10.0;
}

Mark mark_item(Item item, const Examined& x) {
  switch (item) {
    case Item::a1: return mark_history(x);
    case Item::a2: return mark_correction(x);
    case Item::a3: return mark_target(x);
    case Item::a4: return mark_looking(x);
    case Item::b1: return mark_covers(x);
    case Item::b2: return mark_cover_time(x);
    case Item::b3: return mark_open_time(x);
    case Item::b4: return mark_own_view(x);
    case Item::c1: return mark_dissociation(x);
    case Item::c2: return mark_base(x);
    case Item::c3: return mark_bracket(x);
    case Item::c4: return mark_handling(x);
    case Item::c5: return mark_repeats(x);
    case Item::d1: return mark_class(x);
    case Item::d2: return mark_direction(x);
    case Item::d3: return mark_size(x);
    case Item::d4: return mark_eye(x);
    case Item::d5: return mark_recovery(x);
    case Item::e: return mark_further_tests(x);
    case Item::f: return mark_record(x);
    case Item::g1: return mark_impression(x);
    case Item::g2: return mark_plan(x);
    case Item::g3: return mark_urgency(x);
  }
  return {};
}

bool is_reasoning(Item item) { return item == Item::g1 || item == Item::g2 || item == Item::g3; }

// Rules that strike an item before it is added: 2, 4, 8.
void strike(Item item, const Examined& x, Mark& mark) {
  if (mark.removed) return;
  const auto to_nothing = [&](const char* why) {
    mark.share = 0.0;
    mark.why = why;
  };
  if (item == Item::d1 && !did_cover_uncover(x)) {
    to_nothing("Without a cover-uncover of both eyes latent and manifest cannot be told apart.");
  }
  if (is_reasoning(item) && is_harmful(x)) to_nothing("The plan would do harm here.");
  if (is_reasoning(item) && !may_reason(x)) {
    to_nothing("Nothing was found or asked on which it could rest.");
  }
}

// Rule 1: a red flag has to go to somebody, and soon enough. Rule 5: a false alarm costs.
void find_urgency_caps(const Examined& x, double pass_mark, ScoreSheet& sheet) {
  const CaseExpected& expected = x.the_case.expected;
  if (!expected.urgency) return;
  const WrittenFinding* plan = find_last(x, FindingTest::plan);
  const MarkEvidence planned = plan != nullptr
                                   ? MarkEvidence{plan->at_ms, "plan"}
                                   : MarkEvidence{x.evidence.end_ms, "the end, without a plan"};
  const auto cap = [&](int rule, double limit, std::string why, MarkEvidence evidence) {
    sheet.unsafe = sheet.unsafe || limit == kUnsafeLimit;
    sheet.caps.push_back({rule, limit, std::move(why), {std::move(evidence)}});
  };
  if (expected.red_flag && (plan == nullptr || !findings::refers(plan->finding))) {
    cap(1, kUnsafeLimit, "A red flag, and the patient was sent to nobody.", planned);
  }
  const auto written = find_urgency(x);
  if (!written) {
    if (expected.red_flag && sheet.caps.empty()) {
      cap(1, pass_mark - 1.0, "A red flag: sent on, but how soon was not said.", planned);
    }
    return;
  }
  const int slow = steps_too_slow(written->step, *expected.urgency);
  const std::string as_written = fmt::format("\"{}\" was written where it is \"{}\"",
                                             name_of(written->step), name_of(*expected.urgency));
  const MarkEvidence urgency{written->at_ms, "urgency as written"};
  if (slow >= 2) {
    cap(1, kUnsafeLimit, fmt::format("{}: two steps too slow, or more.", as_written), urgency);
  } else if (slow == 1 && expected.red_flag) {
    cap(1, pass_mark - 1.0, fmt::format("{}: one step too slow.", as_written), urgency);
  } else if (slow <= -2) {
    cap(5, kFalseAlarmLimit, fmt::format("{}: two steps too fast, or more.", as_written), urgency);
  }
}

void find_caps(const Examined& x, double pass_mark, ScoreSheet& sheet) {
  find_urgency_caps(x, pass_mark, sheet);
  if (!did_cover_uncover(x)) {
    const auto& covers = x.evidence.covers;
    const MarkEvidence shown = covers.empty()
                                   ? MarkEvidence{x.evidence.end_ms, "the end, without a cover"}
                                   : MarkEvidence{covers.front().from_ms, "the first cover"};
    sheet.caps.push_back(
        {2, kNoCoverUncoverLimit, "No cover-uncover of both eyes at any distance.", {shown}});
  }
  if (is_harmful(x)) {
    sheet.unsafe = true;
    sheet.caps.push_back({4,
                          kUnsafeLimit,
                          "The plan would do harm here.",
                          {{find_last(x, FindingTest::plan)->at_ms, "plan"}}});
  }
}

void find_notes(const Examined& x, ScoreSheet& sheet) {
  int unfounded = 0;
  for (const WrittenFinding& entry : x.card.entries) {
    if (!has_evidence(x, entry)) ++unfounded;
  }
  if (unfounded >= kIntegrityFrom) {
    sheet.notes.push_back(fmt::format(
        "{} entries that nothing done could have shown; please look at the record.", unfounded));
  }
  for (const findings::Contradiction& c : x.card.contradictions) sheet.notes.push_back(c.what);
}

}  // namespace

ScoreSheet calc_score(const Case& the_case, const ExaminationSetup& setup,
                      findings::Evidence evidence, const truth::Truth& truth, Column column,
                      const Rubric& rubric) {
  return calc_score(Examined(the_case, setup, std::move(evidence), truth), column, rubric);
}

ScoreSheet calc_score(const Examined& x, Column column, const Rubric& rubric) {
  ScoreSheet sheet;
  sheet.column = column;
  double wanted = 0.0;
  for (const RubricLine& line : kRubric) {
    Mark mark = mark_item(line.item, x);
    strike(line.item, x, mark);
    ItemScore score;
    score.item = line.item;
    score.why = std::move(mark.why);
    while (!score.why.empty() && score.why.back() == ' ') score.why.pop_back();
    score.evidence = std::move(mark.evidence);
    if (score.evidence.empty() && !mark.removed) {
      score.evidence.push_back(
          {x.evidence.end_ms, "the end of the examination: none of it before"});
    }
    if (mark.removed) {
      score.grade = Grade::removed;
    } else {
      score.max = rubric.weight(line.item, column);
      score.marks = score.max * mark.share;
      score.grade = mark.share >= 1.0 ? Grade::full : mark.share > 0.0 ? Grade::half : Grade::none;
      wanted += score.max;
    }
    sheet.items.push_back(std::move(score));
  }
  double sum = 0.0;
  for (ItemScore& score : sheet.items) {
    if (wanted <= 0.0) break;  // a rubric that gives this case nothing to be marked by
    score.max *= 100.0 / wanted;
    score.marks *= 100.0 / wanted;
    sum += score.marks;
  }
  find_caps(x, rubric.pass_mark(column), sheet);
  find_notes(x, sheet);
  for (const Cap& cap : sheet.caps) sum = std::min(sum, cap.limit);
  sheet.total = one_decimal(sum);
  return sheet;
}

ScoreSheet calc_score(const Case& the_case, const ExaminationSetup& setup,
                      std::span<const Act> acts, Chance chance, Tick until_ms,
                      const truth::Truth& truth, Column column, const Rubric& rubric) {
  return calc_score(the_case, setup, findings::gather_evidence(setup, acts, chance, until_ms),
                    truth, column, rubric);
}

}  // namespace redress::scoring
