// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/scoring/examined.hpp"

#include <algorithm>

#include "sim/basics/elementary.hpp"
#include "sim/scoring/called_for.hpp"
#include "sim/scoring/judged.hpp"
#include "sim/scoring/rubric.hpp"

namespace redress::scoring {

using elementary::magnitude;
using findings::CoverSpan;
using findings::PrismStep;
using findings::WrittenFinding;

namespace {

constexpr double kLeastView = 0.5;      // of the 600 ms in which the eye answers
constexpr Tick kShortestDwellMs = 950;  // rubric C1: 1 s, less what a hand takes
constexpr Tick kGlimpseMs = 150;        // rubric C1
constexpr int kFullTransfers = 6;
constexpr int kHalfTransfers = 4;
constexpr double kNearReadingPd = 2.5;  // a written size lies within half a bar step of a prism,
constexpr double kNearReadingShare = 0.15;  // the bar's steps being 5 above 20

bool is_near_label(double label_pd, double written_pd) {
  const double room = std::max(kNearReadingPd, kNearReadingShare * magnitude(written_pd));
  return magnitude(label_pd - written_pd) <= room;
}

}  // namespace

bool shows(const CoverSpan& span) {
  const Eye other = fellow(span.eye);
  return span.duration_ms() >= findings::kShortestCoverMs && span.resolvable[other] &&
         !span.behind_head[other] &&
         std::max(span.view_on_cover, span.view_on_uncover) >= kLeastView;
}

bool did_unilateral(const Place& place) {
  PerEye<bool> done;
  for (const CoverSpan* span : place.covers) {
    if (span->unilateral() && !span->behind_prism) done[span->eye] = true;
  }
  return done.right && done.left;
}

double Alternation::share() const {
  if (regained || transfers < kHalfTransfers) return 0.0;
  if (transfers >= kFullTransfers && glimpses == 0 && short_dwells == 0) return 1.0;
  return glimpses <= 2 ? 0.5 : 0.0;
}

Alternation find_alternation(const Place& place) {
  Alternation best;
  Alternation run;
  for (const CoverSpan* span : place.covers) {
    if (!span->transfer_in) run = {};
    if (span->transfer_in && span->transfer_out && span->duration_ms() < kShortestDwellMs) {
      ++run.short_dwells;
    }
    if (!span->transfer_in) continue;
    if (run.transfers == 0) run.from_ms = span->from_ms;
    ++run.transfers;
    if (span->glimpse_ms > kGlimpseMs) {
      ++run.glimpses;
      run.regained = run.regained || span->fused_in_glimpse;
    }
    const bool better = run.share() > best.share() ||
                        (run.share() == best.share() && run.transfers > best.transfers);
    if (better) best = run;
  }
  return best;
}

bool is_tested(const Place& place) {
  return did_unilateral(place) || find_alternation(place).share() >= 1.0;
}

std::vector<const PrismStep*> measuring_steps(const Place& place) {
  std::vector<const PrismStep*> steps;
  for (const PrismStep* step : place.steps) {
    if (step->transfers >= 2) steps.push_back(step);
  }
  return steps;
}

bool has_class_evidence(const Place& place) {
  if (place.by_reflexes && did_unilateral(place)) return true;
  PerEye<bool> shown;
  for (const CoverSpan* span : place.covers) {
    if (span->unilateral() && !span->behind_prism && shows(*span)) shown[span->eye] = true;
  }
  return shown.right && shown.left;
}

bool has_movement_evidence(const Place& place) {
  if (place.by_reflexes) return true;
  int transfers = 0;
  for (const CoverSpan* span : place.covers) {
    if (span->unilateral() && shows(*span)) return true;
    if (span->transfer_in && span->duration_ms() >= kShortestDwellMs &&
        span->resolvable[fellow(span->eye)] && !span->behind_head[fellow(span->eye)] &&
        span->view_on_cover >= kLeastView) {
      ++transfers;
    }
  }
  return transfers >= 2;
}

bool has_prism_evidence(const Place& place, const Finding& finding) {
  if (finding.method == SizeMethod::simultaneous) {
    return std::any_of(place.steps.begin(), place.steps.end(), [&](const PrismStep* step) {
      return step->with_cover && is_near_label(step->horizontal_pd + step->left_with_cover_pd,
                                               finding.horizontal_pd.value_or(0.0));
    });
  }
  if (place.by_reflexes) {
    return std::any_of(place.open_steps.begin(), place.open_steps.end(), [&](const auto* step) {
      return is_near_label(step->horizontal_pd, finding.horizontal_pd.value_or(0.0));
    });
  }
  if (!has_movement_evidence(place)) return false;
  const double h = finding.horizontal_pd.value_or(0.0);
  const double v = finding.vertical_pd.value_or(0.0);
  bool horizontal = magnitude(h) < 1.0;
  bool vertical = magnitude(v) < 1.0;
  if (horizontal && vertical) return true;  // nothing to neutralise was seen without a prism
  for (const PrismStep* step : measuring_steps(place)) {
    horizontal = horizontal || is_near_label(step->horizontal_pd, h);
    vertical = vertical || is_near_label(step->vertical_pd, v);
  }
  return horizontal && vertical;
}

bool has_recovery_evidence(const Place& place) {
  return std::any_of(place.covers.begin(), place.covers.end(), [](const CoverSpan* span) {
    return span->unilateral() && span->duration_ms() >= findings::kShortestCoverMs &&
           span->view_on_uncover >= kLeastView;
  });
}

bool has_evidence(const Examined& x, const WrittenFinding& entry) {
  const Finding& f = entry.finding;
  if (f.test == FindingTest::impression || f.test == FindingTest::plan) return true;
  if (f.test != FindingTest::cover_test && f.test != FindingTest::prism_cover) {
    return has_further_evidence(x, f);
  }
  if (!f.distance_m) return false;
  // Not only at the places called for: somebody may test elsewhere as well.
  Place here;
  const auto is_here = [&](const findings::Setting& s) {
    return findings::is_same_distance(s.distance_m, *f.distance_m) &&
           s.spectacles == f.spectacles.value_or(s.spectacles) && is_for_cover_test(x.setup, s);
  };
  for (const CoverSpan& span : x.evidence.covers) {
    if (is_here(span.setting)) here.covers.push_back(&span);
  }
  for (const PrismStep& step : x.evidence.prisms) {
    if ((step.transfers > 0 || step.with_cover) && is_here(step.setting))
      here.steps.push_back(&step);
  }
  if (f.test == FindingTest::prism_cover) return has_prism_evidence(here, f);
  return f.kind ? has_class_evidence(here) : has_movement_evidence(here);
}

Reading read_entry(const Place& place, const WrittenFinding& entry, bool by_eye) {
  const Finding& f = entry.finding;
  Reading r;
  r.entry = &entry;
  r.by_eye = by_eye;
  r.horizontal_pd = f.horizontal_pd;
  r.vertical_pd = f.vertical_pd;
  if (f.kind == FindingKind::none && !r.horizontal_pd) r.horizontal_pd = 0.0;
  r.manifest_only = f.method == SizeMethod::simultaneous;
  for (const PrismStep* step : place.steps) {
    if (step->before.right != step->before.left) {
      r.fixing = step->before.right ? Eye::left : Eye::right;
    }
  }
  return r;
}

std::optional<Reading> find_reading(const Place& place) {
  for (const WrittenFinding* entry : {place.prism_entry, place.cover_entry}) {
    if (entry == nullptr) continue;
    const Finding& f = entry->finding;
    const bool sized = f.horizontal_pd || f.vertical_pd || f.kind == FindingKind::none;
    if (!sized) continue;
    const bool measured = findings::is_by_prism(f);
    if (measured ? !has_prism_evidence(place, f) : !has_movement_evidence(place)) continue;
    // What was too small to be given a prism was told by eye, whatever it is called.
    return read_entry(place, *entry, !measured || place.steps.empty());
  }
  return std::nullopt;
}

bool answers(const Case& the_case, std::string_view key) {
  return std::any_of(the_case.answers.begin(), the_case.answers.end(),
                     [key](const auto& answer) { return answer.first == key; });
}

std::vector<std::string> find_key_questions(const Case& the_case) {
  if (!the_case.teaching.key_questions.empty()) return the_case.teaching.key_questions;
  std::vector<std::string> keys;
  for (const char* key : {"onset", "double_vision"}) {
    if (answers(the_case, key)) keys.emplace_back(key);
  }
  return keys;
}

std::optional<Tick> find_key_question(const Examined& x, std::optional<std::string_view> key) {
  const std::vector<std::string> keys = find_key_questions(x.the_case);
  for (const findings::Question& q : x.evidence.questions) {
    if (key && q.what != *key) continue;
    if (std::find(keys.begin(), keys.end(), q.what) != keys.end()) return q.at_ms;
  }
  return std::nullopt;
}

}  // namespace redress::scoring
