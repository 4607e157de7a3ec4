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
#include "sim/truth/procedures.hpp"

namespace redress::scoring {

using findings::CoverSpan;
using findings::WrittenFinding;

namespace {

constexpr double kShortestRegainMs = 50.0;

int order_of(RecoveryGrade grade) { return static_cast<int>(grade); }  // rapid 0 ... none 3

// As the calm patient recovers, and as this one did in this examination (median).
std::vector<RecoveryGrade> right_grades(const Examined& x, const Place& place) {
  std::vector<RecoveryGrade> grades;
  const bool six = place.nominal_m == 6.0 && findings::is_same_distance(place.used_m, 6.0) &&
                   place.used_spectacles == x.setup.room.spectacles_worn && !place.own_posture;
  grades.push_back(findings::grade_recovery(
      six ? x.truth.recovery_ms : truth::calc_recovery_ms(x.setup, place.as_used())));
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
  if (not_regained > times.size()) {
    grades.push_back(RecoveryGrade::none);
  } else if (!times.empty()) {
    std::sort(times.begin(), times.end());  // equal times are interchangeable
    grades.push_back(findings::grade_recovery(times[times.size() / 2]));
  }
  return grades;
}

/// What a control score written at this distance is worth; nothing: none, or none that anything
/// done could have shown.
std::optional<double> cite_control(const Examined& x, const Place& place, Mark& mark) {
  const auto control = judge_control(x, place.nominal_m < 1.0);
  if (!control) return std::nullopt;
  mark.evidence.push_back(
      {control->entry->at_ms,
       fmt::format("{}: control written as {}", place.name, *control->entry->finding.control)});
  if (control->share < 1.0) {
    mark.why += fmt::format("{}: control was {}. ", place.name, control->shown);
  }
  return control->share;
}

}  // namespace

Mark mark_recovery(const Examined& x) {
  Mark mark;
  double sum = 0.0;
  int count = 0;
  for (const Place& place : x.places) {
    if (place.rank() != 1 && place.rank() != 2) continue;
    ++count;
    // Where it comes and goes a control score says as much.
    const auto control = place.rank() == 2 ? cite_control(x, place, mark) : std::nullopt;
    const WrittenFinding* entry = place.cover_entry;
    if (entry == nullptr || !entry->finding.recovery) {
      if (control) {
        sum += *control;
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
    double best = control.value_or(0.0);
    const std::vector<RecoveryGrade> grades = right_grades(x, place);
    for (const RecoveryGrade grade : grades) {
      const int off = order_of(*entry->finding.recovery) - order_of(grade);
      best = std::max(best, off == 0 ? 1.0 : (off == 1 || off == -1) ? 0.5 : 0.0);
    }
    if (best < 1.0) {
      mark.why += fmt::format("{}: it was {}. ", place.name, findings::grade_word(grades.back()));
    }
    sum += best;
  }
  if (count == 0) return removed("Nothing here recovers that could be seen.");
  mark.share = sum / count;
  if (mark.share >= 1.0) mark.why = "As it was.";
  return mark;
}

}  // namespace redress::scoring
