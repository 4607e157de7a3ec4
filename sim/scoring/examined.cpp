// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/scoring/examined.hpp"

#include <algorithm>
#include <utility>

#include "sim/basics/elementary.hpp"
#include "sim/patient/poor_sight.hpp"
#include "sim/scoring/called_for.hpp"
#include "sim/scoring/rubric.hpp"
#include "sim/truth/conditions.hpp"

namespace redress::scoring {

using elementary::magnitude;
using findings::CoverSpan;
using findings::PrismStep;
using findings::WrittenFinding;

namespace {

constexpr double kFarDistanceM = 20.0;
constexpr double kFarDifferencePd = 5.0;  // rubric: the far distance is called for from here on
constexpr double kLeastView = 0.5;        // of the 600 ms in which the eye answers
constexpr Tick kShortestDwellMs = 950;    // rubric C1: 1 s, less what a hand takes
constexpr Tick kGlimpseMs = 150;          // rubric C1
constexpr int kFullTransfers = 6;
constexpr int kHalfTransfers = 4;
constexpr double kNearReadingPd = 2.5;  // a written size lies within half a bar step of a prism,
constexpr double kNearReadingShare = 0.15;  // the bar's steps being 5 above 20

truth::Condition condition_at(const ExaminationSetup& setup, const truth::Truth& truth,
                              double distance_m, bool spectacles, Eye fixing,
                              bool own_posture = false) {
  if (own_posture) return truth::calc_condition(setup, distance_m, spectacles, fixing, true);
  for (const truth::Condition& c : truth.conditions) {
    if (magnitude(c.distance_m - distance_m) < 1e-9 && c.spectacles == spectacles &&
        c.fixing == fixing) {
      return c;
    }
  }
  return truth::calc_condition(setup, distance_m, spectacles, fixing);
}

Place make_place(std::string name, double nominal_m, double low_m, double high_m) {
  Place p;
  p.name = std::move(name);
  p.nominal_m = p.used_m = nominal_m;
  p.low_m = low_m;
  p.high_m = high_m;
  return p;
}

// The distance and correction of the covers at this place: those called for if there were any such,
// with the head straight if there were any so. A head that the patient holds askew is how it is
// found: what is seen then is a finding, compared with what is there then.
void find_used(const findings::Evidence& evidence, bool right_spectacles, Place& p) {
  p.used_spectacles = right_spectacles;
  const CoverSpan* best = nullptr;
  int best_rank = -1;
  for (const CoverSpan& span : evidence.covers) {
    const findings::Setting& s = span.setting;
    if (s.lenses || s.distance_m < p.low_m || s.distance_m > p.high_m) continue;
    if (!s.straight && !s.own_posture) continue;
    const int rank = (s.straight ? 4 : 0) + (s.spectacles == right_spectacles ? 2 : 0) +
                     (findings::is_same_distance(s.distance_m, p.nominal_m) ? 1 : 0);
    if (rank > best_rank) {
      best = &span;
      best_rank = rank;
    }
  }
  if (best == nullptr) return;
  p.used_m = best->setting.distance_m;
  p.used_spectacles = best->setting.spectacles;
  p.own_posture = best->setting.own_posture;
}

void fill_place(const Examined& x, Place& p) {
  find_used(x.evidence, x.right_spectacles, p);
  for (const CoverSpan& span : x.evidence.covers) {
    if (p.is_used_at(span.setting)) p.covers.push_back(&span);
  }
  for (const PrismStep& step : x.evidence.prisms) {
    if ((step.transfers > 0 || step.with_cover) && p.is_used_at(step.setting)) {
      p.steps.push_back(&step);
    }
  }
  for (const Eye eye : kBothEyes) {
    p.there[eye] = condition_at(x.setup, x.truth, p.used_m, p.used_spectacles, eye, p.own_posture);
  }
  p.cover_entry =
      findings::find_entry(x.card, FindingTest::cover_test, p.used_m, p.used_spectacles);
  p.prism_entry =
      findings::find_entry(x.card, FindingTest::prism_cover, p.used_m, p.used_spectacles);
}

void fill_let_go(const Examined& x, Place& p) {
  if (x.setup.patient.accommodation.spasm_d <= 0.0) return;
  const ExaminationSetup calm = truth::without_spasm(x.setup);
  p.let_go.emplace();
  for (const Eye eye : kBothEyes) {
    (*p.let_go)[eye] = truth::calc_condition(calm, p.used_m, p.used_spectacles, eye, p.own_posture);
  }
}

// Krimsky: prism before the eye that sees, until the other's reflex is central.
void fill_reflexes(const Examined& x, Place& p) {
  constexpr Tick kPenlightMs = 2000;
  const auto& acuity = x.setup.patient.sensory.acuity_logmar;
  if (std::max(acuity.right, acuity.left) < patient::kNoFormLogmar) return;
  p.by_reflexes = x.evidence.penlight_ms >= kPenlightMs;
  for (const PrismStep& step : x.evidence.prisms) {
    if (step.open && step.transfers == 0 && p.is_used_at(step.setting)) {
      p.open_steps.push_back(&step);
    }
  }
}

// What moves under a cover is what a prism would have to neutralise: behind spectacles that carry
// the deviation, and where an eye fixes beside its centre by as much as it deviates, nothing does.
int rank_of(const truth::Condition& c) {
  const bool seen =
      magnitude(c.neutralising_horizontal_pd.value_or(c.horizontal_pd)) >= kSeenHorizontalPd ||
      magnitude(c.neutralising_vertical_pd.value_or(c.vertical_pd)) >= kSeenVerticalPd;
  if (!seen) return 0;
  switch (c.manifest) {
    case truth::Manifest::constant: return 3;
    case truth::Manifest::intermittent: return 2;
    case truth::Manifest::none: break;
  }
  return 1;
}

bool needs_far_distance(const truth::Condition& six, const truth::Condition& far) {
  return six.manifest != far.manifest ||
         magnitude(six.horizontal_pd - far.horizontal_pd) >= kFarDifferencePd;
}

bool is_near_label(double label_pd, double written_pd) {
  const double room = std::max(kNearReadingPd, kNearReadingShare * magnitude(written_pd));
  return magnitude(label_pd - written_pd) <= room;
}

}  // namespace

bool Place::is_seen() const { return rank_of(there.right) > 0; }
int Place::rank() const { return rank_of(there.right); }
bool Place::is_used_at(const findings::Setting& setting) const {
  return own_posture ? findings::is_at_in_own_posture(setting, used_m, used_spectacles)
                     : findings::is_at(setting, used_m, used_spectacles);
}

Examined::Examined(const Case& c, const ExaminationSetup& s, findings::Evidence e,
                   const truth::Truth& t)
    : the_case(c),
      setup(s),
      truth(t),
      evidence(std::move(e)),
      card(findings::make_card(evidence.notes)),
      right_spectacles(s.room.spectacles_owned) {
  // Rooms of 3 m and more are used for the distance test; within arm's reach is near.
  places.push_back(make_place("6 m", 6.0, 2.5, 9.0));
  places.push_back(make_place("near", c.patient.near_working_distance.value, 0.25, 0.55));
  const auto six = condition_at(s, t, 6.0, right_spectacles, Eye::right);
  const auto far = condition_at(s, t, kFarDistanceM, right_spectacles, Eye::right);
  if (needs_far_distance(six, far)) {
    places.push_back(make_place("far distance", kFarDistanceM, 9.0, 1000.0));
  }
  for (Place& place : places) fill_place(*this, place);
  for (Place& place : places) {
    fill_reflexes(*this, place);
    fill_let_go(*this, place);
  }
  // 6 m is the main distance unless the deviation is of a worse class elsewhere.
  for (std::size_t i = 1; i < places.size(); ++i) {
    if (places[i].rank() > places[main_place].rank()) main_place = i;
  }
}

bool shows(const CoverSpan& span) {
  return span.duration_ms() >= findings::kShortestCoverMs && span.resolvable[fellow(span.eye)] &&
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
        span->resolvable[fellow(span->eye)] && span->view_on_cover >= kLeastView) {
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
    const bool spectacles = f.spectacles.value_or(s.spectacles);
    return findings::is_at(s, *f.distance_m, spectacles) ||
           findings::is_at_in_own_posture(s, *f.distance_m, spectacles);
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

std::optional<Reading> find_reading(const Place& place) {
  const auto read = [](const WrittenFinding& entry, bool by_eye) {
    Reading r;
    r.entry = &entry;
    r.by_eye = by_eye;
    r.horizontal_pd = entry.finding.horizontal_pd;
    r.vertical_pd = entry.finding.vertical_pd;
    if (entry.finding.kind == FindingKind::none && !r.horizontal_pd) r.horizontal_pd = 0.0;
    return r;
  };
  for (const WrittenFinding* entry : {place.prism_entry, place.cover_entry}) {
    if (entry == nullptr) continue;
    const Finding& f = entry->finding;
    const bool sized = f.horizontal_pd || f.vertical_pd || f.kind == FindingKind::none;
    if (!sized) continue;
    const bool measured = findings::is_by_prism(f);
    if (measured ? !has_prism_evidence(place, f) : !has_movement_evidence(place)) continue;
    // What was too small to be given a prism was told by eye, whatever it is called.
    const bool by_eye = !measured || place.steps.empty();
    Reading r = read(*entry, by_eye);
    r.manifest_only = f.method == SizeMethod::simultaneous;
    for (const PrismStep* step : place.steps) {
      if (step->before.right != step->before.left) {
        r.fixing = step->before.right ? Eye::left : Eye::right;
      }
    }
    return r;
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
