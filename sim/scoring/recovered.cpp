// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// D5 of the rubric: how the eyes came back, or how well a deviation that comes and goes is held.
#include <algorithm>
#include <optional>
#include <vector>

#include <fmt/format.h>

#include "sim/findings/recovery.hpp"
#include "sim/scoring/called_for.hpp"
#include "sim/scoring/items.hpp"
#include "sim/scoring/judged.hpp"
#include "sim/truth/procedures.hpp"

namespace redress::scoring {

using findings::CoverSpan;
using findings::WrittenFinding;

namespace {

constexpr double kShortestRegainMs = 50.0;

int order_of(RecoveryGrade grade) { return static_cast<int>(grade); }  // rapid 0 ... none 3

// The median of this examination; nothing without a cover that could show it.
std::optional<RecoveryGrade> grade_today(const Place& place) {
  std::vector<double> times;
  std::size_t not_regained = 0;
  for (const CoverSpan* span : place.covers) {
    if (!span->unilateral() || span->duration_ms() < findings::kShortestCoverMs) continue;
    if (!span->regained_ms) {
      ++not_regained;
    } else if (static_cast<double>(*span->regained_ms) > kShortestRegainMs) {
      times.push_back(static_cast<double>(*span->regained_ms));
    }
  }
  if (not_regained > times.size()) return RecoveryGrade::none;
  if (times.empty()) return std::nullopt;
  std::sort(times.begin(), times.end());  // equal times are interchangeable
  return findings::grade_recovery(times[times.size() / 2]);
}

double share_of(RecoveryGrade written, RecoveryGrade there) {
  const int off = order_of(written) - order_of(there);
  return off == 0 ? 1.0 : (off == 1 || off == -1) ? 0.5 : 0.0;
}

struct ControlShare {
  bool said = false;  ///< and something done could have shown it
  double share = 0.0;
};

/// What a control score written at this distance is worth.
ControlShare cite_control(const Examined& x, const Place& place, Mark& mark) {
  const auto control = judge_control(x, place.nominal_m < 1.0);
  if (!control) return {};
  mark.evidence.push_back(
      {control->entry->at_ms,
       fmt::format("{}: control written as {}", place.name, *control->entry->finding.control)});
  if (control->share < 1.0) {
    mark.why += fmt::format("{}: control was {}. ", place.name, control->shown);
  }
  return {true, control->share};
}

}  // namespace

// As the calm patient recovers, or as this one did in this examination.
JudgedRecovery judge_recovery(const Examined& x, const Place& place, RecoveryGrade written) {
  const bool six = findings::is_same_distance(place.used_m, 6.0) &&
                   place.used_spectacles == x.setup.room.spectacles_worn && !place.own_posture;
  JudgedRecovery judged;
  judged.rule_ms = six ? x.truth.recovery_ms : truth::calc_recovery_ms(x.setup, place.as_used());
  judged.rule = findings::grade_recovery(judged.rule_ms);
  judged.today = grade_today(place);
  judged.share = std::max(share_of(written, judged.rule),
                          judged.today ? share_of(written, *judged.today) : 0.0);
  return judged;
}

Mark mark_recovery(const Examined& x) {
  Mark mark;
  double sum = 0.0;
  int count = 0;
  for (const Place& place : x.places) {
    if (place.rank() != 1 && place.rank() != 2) continue;
    ++count;
    // Where it comes and goes a control score says as much.
    const auto control = place.rank() == 2 ? cite_control(x, place, mark) : ControlShare{};
    const WrittenFinding* entry = place.cover_entry;
    if (entry == nullptr || !entry->finding.recovery) {
      if (control.said) {
        sum += control.share;
        continue;
      }
      mark.why += fmt::format("{}: no recovery written. ", place.name);
      continue;
    }
    mark.evidence.push_back(
        {entry->at_ms, fmt::format("{}: recovery written as {}", place.name,
                                   findings::grade_word(*entry->finding.recovery))});
    for (const CoverSpan* span : place.covers) {
      if (!span->unilateral() || span->duration_ms() < findings::kShortestCoverMs) continue;
      mark.evidence.push_back(
          {span->to_ms,
           span->regained_ms
               ? fmt::format("{}: single again {:.1f} s after the {} eye was freed", place.name,
                             0.001 * static_cast<double>(*span->regained_ms), name_of(span->eye))
               : fmt::format("{}: not single again after the {} eye was freed", place.name,
                             name_of(span->eye))});
    }
    if (!has_recovery_evidence(place)) {
      mark.why += fmt::format("{}: nothing done could have shown it. ", place.name);
      continue;
    }
    const JudgedRecovery judged = judge_recovery(x, place, *entry->finding.recovery);
    const double best = std::max(control.share, judged.share);
    if (best < 1.0) {
      mark.why += fmt::format("{}: it was {}. ", place.name,
                              findings::grade_word(judged.today.value_or(judged.rule)));
    }
    sum += best;
  }
  if (count == 0) return removed("Nothing here recovers that could be seen.");
  mark.share = sum / count;
  if (mark.share >= 1.0) mark.why = "As it was.";
  return mark;
}

}  // namespace redress::scoring
