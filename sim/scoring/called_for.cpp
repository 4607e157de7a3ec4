// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/scoring/called_for.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "sim/basics/elementary.hpp"
#include "sim/scoring/judged.hpp"
#include "sim/scoring/positions.hpp"
#include "sim/scoring/reserves.hpp"
#include "sim/scoring/words.hpp"
#include "sim/truth/criteria.hpp"

namespace redress::scoring {

using elementary::magnitude;
using findings::Approach;
using findings::CoverSpan;
using findings::FirstWatch;
using findings::FourDioptreTrial;
using findings::PrismStep;
using findings::WrittenFinding;

namespace {

constexpr double kUnequalLogmar = 0.1;
// The four-dioptre test is for angles below 10 (teaching page on the test, [97] of the clinical
// notes: "small-angle, less than 10").
constexpr double kSmallAnglePd = 10.0;
constexpr double kWithinReachM = 0.55;
constexpr double kNearPointCm = 2.0;
constexpr double kNearPointShare = 0.25;
constexpr double kLeastRatio = 1.0;
constexpr double kRatioPerLens = 2.8;
constexpr double kLeastLensChangeD = 0.75;
// Distance against near: 6 m to 40 cm is 2.33 D of demand.
constexpr double kDistanceNearD = 2.33;
constexpr Tick kFirstWatchMs = 28'000;   // half a minute, less what a hand takes
constexpr Tick kControlCoverMs = 9'500;  // 10 s, less what a hand takes
constexpr Tick kPenlightMs = 2000;
constexpr double kReflexesPd = 10.0;  // experts' error: Choi & Kushner 1998
constexpr double kReflexesShare = 0.4;
constexpr double kRounding = 0.005;

const WrittenFinding* find_response(const Examined& x, Eye eye) {
  const FindingEye word = eye == Eye::right ? FindingEye::right : FindingEye::left;
  const WrittenFinding* found = nullptr;
  for (const WrittenFinding& entry : x.card.entries) {
    const Finding& f = entry.finding;
    if (f.test != FindingTest::four_dioptre || !f.response) continue;
    if (f.eye == word || f.eye == FindingEye::both) found = &entry;
  }
  return found;
}

// Normals answer atypically now and then: what this patient did in this examination is right too.
bool response_is_right(const Examined& x, Eye eye, FourDioptreResponse written) {
  if (x.truth.four_dioptre[eye] == written) return true;
  return std::any_of(x.evidence.four_dioptre.begin(), x.evidence.four_dioptre.end(),
                     [&](const FourDioptreTrial& t) { return t.eye == eye && t.seen == written; });
}

const FourDioptreTrial* find_trial(const Examined& x, Eye eye) {
  for (const FourDioptreTrial& t : x.evidence.four_dioptre) {
    if (t.eye == eye && t.seen && t.setting.straight && !t.setting.lenses) return &t;
  }
  return nullptr;
}

double share_of_four_dioptre(const Examined& x, Mark& mark) {
  double sum = 0.0;
  for (const Eye eye : kBothEyes) {
    const FourDioptreTrial* trial = find_trial(x, eye);
    if (trial == nullptr) {
      mark.why += fmt::format("No four-dioptre test of the {} eye. ", name_of(eye));
      continue;
    }
    mark.evidence.push_back({trial->at_ms, fmt::format("four base out, {} eye", name_of(eye))});
    const WrittenFinding* entry = find_response(x, eye);
    const bool right = entry != nullptr && response_is_right(x, eye, *entry->finding.response);
    if (!right) mark.why += fmt::format("The {} eye's answer was not read right. ", name_of(eye));
    sum += right ? 1.0 : 0.5;
  }
  return 0.5 * sum;
}

// ------------------------------------------------------------------------------------ near point

const Approach* find_approach(const Examined& x) {
  const auto& all = x.evidence.approaches;
  const auto it = std::find_if(all.begin(), all.end(), [](const Approach& a) {
    return a.break_cm.has_value() || a.closest_cm <= 100.0 * 0.06;
  });
  return it == all.end() ? nullptr : &*it;
}

bool is_near_point(double written_cm, double found_cm) {
  const double room = std::max(kNearPointCm, kNearPointShare * found_cm);
  return magnitude(written_cm - found_cm) <= room + kRounding;
}

// Any of the repeats; where there was none, the patient as a rule.
bool is_near_point_right(const Examined& x, double written_cm) {
  if (find_approach(x) == nullptr) {
    return x.truth.near_point_break_cm && is_near_point(written_cm, *x.truth.near_point_break_cm);
  }
  const auto& all = x.evidence.approaches;
  return std::any_of(all.begin(), all.end(), [written_cm](const Approach& a) {
    return is_near_point(written_cm, a.break_cm.value_or(a.closest_cm));
  });
}

double share_of_near_point(const Examined& x, Mark& mark) {
  const Approach* shown = find_approach(x);
  if (shown == nullptr) {
    mark.why += "The near point was not looked for. ";
    return 0.0;
  }
  for (const Approach& a : x.evidence.approaches) {
    if (a.closest_cm >= a.from_cm) continue;
    mark.evidence.push_back(
        {a.at_ms,
         fmt::format("target brought from {:.0f} to {:.0f} cm at {:.1f} cm/s, {}", a.from_cm,
                     a.closest_cm, a.speed_cm_per_s,
                     a.break_cm ? fmt::format("single vision lost at {:.1f} cm", *a.break_cm)
                                : "single all the way")});
  }
  const WrittenFinding* entry = find_last(x, FindingTest::near_point);
  if (entry == nullptr || !entry->finding.break_value) {
    mark.why += "The near point was not written. ";
    return 0.5;
  }
  const double written = *entry->finding.break_value;
  mark.evidence.push_back({entry->at_ms, fmt::format("near point written {:.1f} cm", written)});
  if (is_near_point_right(x, written)) return 1.0;
  mark.why +=
      fmt::format("The near point was at {:.1f} cm. ", shown->break_cm.value_or(shown->closest_cm));
  return 0.5;
}

// ------------------------------------------------------------------------------------------ AC/A

/// The largest change of lens between covers at one near distance; 0: none.
double find_lens_change(const findings::Evidence& evidence, Tick& at_ms) {
  double most = 0.0;
  for (const CoverSpan& a : evidence.covers) {
    if (a.setting.distance_m > kWithinReachM) continue;
    for (const CoverSpan& b : evidence.covers) {
      if (!findings::is_same_distance(a.setting.distance_m, b.setting.distance_m)) continue;
      if (b.setting.lens_d - a.setting.lens_d <= most) continue;
      most = b.setting.lens_d - a.setting.lens_d;
      at_ms = std::max(a.from_ms, b.from_ms);
    }
  }
  return most >= kLeastLensChangeD ? most : 0.0;
}

// By each way that was gone: lenses this far apart, distance against near. Where neither was, by
// either within the least tolerance.
bool is_ac_a_right(const Examined& x, double written, double lens_d, bool both) {
  const bool none = lens_d == 0.0 && !both;
  const auto is_right = [&](double truth, double change_d) {
    const double room = none ? kLeastRatio : std::max(kLeastRatio, kRatioPerLens / change_d);
    return magnitude(written - truth) <= room + kRounding;
  };
  return ((none || lens_d > 0.0) && is_right(x.truth.ac_a_gradient_pd_per_d, lens_d)) ||
         ((none || both) && is_right(x.truth.ac_a_heterophoria_pd_per_d, kDistanceNearD));
}

double share_of_ac_a(const Examined& x, Mark& mark) {
  Tick at_ms = 0;
  const double lens_d = find_lens_change(x.evidence, at_ms);
  const bool both = is_tested(x.places[0]) && is_tested(x.places[1]);
  if (lens_d == 0.0 && !both) {
    mark.why += "Neither lenses at near nor distance against near were tried. ";
    return 0.0;
  }
  if (lens_d > 0.0) {
    mark.evidence.push_back(
        {at_ms, fmt::format("covered at near with lenses {:.2f} D apart", lens_d)});
  }
  const WrittenFinding* entry = find_last(x, FindingTest::ac_a);
  // Distance and near are there in any case: the ratio has to be worked out as well.
  if (entry == nullptr || !entry->finding.ac_a_pd_per_d) {
    mark.why += "The AC/A ratio was not written. ";
    return lens_d > 0.0 ? 0.5 : 0.0;
  }
  const double written = *entry->finding.ac_a_pd_per_d;
  mark.evidence.push_back({entry->at_ms, fmt::format("AC/A written {:.1f}Δ/D", written)});
  if (is_ac_a_right(x, written, lens_d, both)) return 1.0;
  mark.why += fmt::format("By lenses it is {:.1f}Δ/D, by distance and near {:.1f}Δ/D. ",
                          x.truth.ac_a_gradient_pd_per_d, x.truth.ac_a_heterophoria_pd_per_d);
  return 0.5;
}

// --------------------------------------------------------------------------------------- control

const FirstWatch* find_first_watch(const Examined& x, bool near) {
  for (const FirstWatch& w : x.evidence.first_watches) {
    if ((w.setting.distance_m <= kWithinReachM) == near && w.ms >= kFirstWatchMs) return &w;
  }
  return nullptr;
}

// What this patient did in this examination, which need not be what its like do on the whole: the
// rule of Mohney & Holmes on the half minute and on the long covers.
int calc_shown_control(const Examined& x, const FirstWatch& watch) {
  const double share = static_cast<double>(watch.apart_ms) / static_cast<double>(watch.ms);
  std::vector<std::optional<double>> recoveries_s;
  for (const CoverSpan& span : x.evidence.covers) {
    const bool here = findings::is_same_distance(span.setting.distance_m, watch.setting.distance_m);
    if (!here || !span.unilateral() || span.duration_ms() < kControlCoverMs) continue;
    recoveries_s.push_back(span.regained_ms
                               ? std::optional(0.001 * static_cast<double>(*span.regained_ms))
                               : std::nullopt);
  }
  return truth::calc_control_score(share, recoveries_s);
}

const WrittenFinding* find_control_entry(const Examined& x, bool near) {
  const WrittenFinding* entry = nullptr;
  for (const WrittenFinding& e : x.card.entries) {
    const Finding& f = e.finding;
    if (f.test != FindingTest::control || !f.control || !f.distance_m) continue;
    if ((*f.distance_m <= kWithinReachM) == near) entry = &e;
  }
  return entry;
}

double share_of_control(const Examined& x, Mark& mark) {
  double sum = 0.0;
  int count = 0;
  for (const bool near : {false, true}) {
    const auto& truth = near ? x.truth.control_near : x.truth.control_distance;
    if (!truth) continue;
    ++count;
    const char* where = near ? "near" : "distance";
    const FirstWatch* watch = find_first_watch(x, near);
    if (watch == nullptr) {
      mark.why +=
          fmt::format("Not watched at {} for half a minute before the first cover. ", where);
      continue;
    }
    mark.evidence.push_back({x.evidence.first_cover_ms.value_or(x.evidence.end_ms),
                             fmt::format("watched at {} until here, nothing covered", where)});
    const auto judged = judge_control(x, near);
    if (judged) {
      mark.evidence.push_back({judged->entry->at_ms, fmt::format("{}: control {}", where,
                                                                 *judged->entry->finding.control)});
    }
    const bool right = judged && judged->share >= 1.0;
    if (!right) {
      mark.why += fmt::format("Control at {} is {} as a rule, {} today. ", where, *truth,
                              calc_shown_control(x, *watch));
    }
    sum += right ? 1.0 : 0.5;
  }
  return count == 0 ? 1.0 : sum / count;
}

// -------------------------------------------------------------------------------------- reflexes

double manifest_at(const Examined& x, const Finding& reflexes) {
  return x.places[reflexes.distance_m.value_or(0.4) > 1.0 ? 0 : 1]
      .there.right.manifest_horizontal_pd;
}

bool are_reflexes_right(const Examined& x, const Finding& f) {
  const double truth = manifest_at(x, f);
  const double room = std::max(kReflexesPd, kReflexesShare * magnitude(truth));
  return magnitude(f.horizontal_pd.value_or(0.0) - truth) <= room;
}

double share_of_reflexes(const Examined& x, Mark& mark) {
  if (x.evidence.penlight_ms < kPenlightMs) {
    mark.why += "The corneal reflexes were not looked at. ";
    return 0.0;
  }
  const WrittenFinding* entry = find_last(x, FindingTest::reflexes);
  if (entry == nullptr) {
    mark.why += "The corneal reflexes were not written. ";
    return 0.5;
  }
  mark.evidence.push_back(
      {entry->at_ms,
       "reflexes: written " + say_across(entry->finding.horizontal_pd.value_or(0.0))});
  if (are_reflexes_right(x, entry->finding)) return 1.0;
  mark.why += fmt::format("What is manifest is {}. ", say_across(manifest_at(x, entry->finding)));
  return 0.5;
}

bool has_prism_run(const Examined& x, const Finding& f) {
  const auto run = find_reserve_run(x.evidence, f.base);
  return run && run->reached_pd + 0.5 >= f.break_value.value_or(0.0);
}

}  // namespace

std::vector<CalledTest> find_called_tests(const Examined& x) {
  if (x.the_case.expected.tests) return *x.the_case.expected.tests;
  const truth::Condition& c = x.places.front().there.right;
  if (c.manifest == truth::Manifest::intermittent) return {};
  const double angle =
      std::max(magnitude(c.manifest_horizontal_pd), magnitude(c.manifest_vertical_pd));
  if (c.manifest == truth::Manifest::constant && angle >= kSmallAnglePd) return {};
  const auto& acuity = x.setup.patient.sensory.acuity_logmar;
  const bool unequal = magnitude(acuity.right - acuity.left) >= kUnequalLogmar - 1e-9;
  if (!unequal && x.truth.suppression_eye == WhichEyes::none) return {};
  return {CalledTest::four_dioptre};
}

std::optional<JudgedControl> judge_control(const Examined& x, bool near) {
  const auto& truth = near ? x.truth.control_near : x.truth.control_distance;
  const FirstWatch* watch = find_first_watch(x, near);
  const WrittenFinding* entry = find_control_entry(x, near);
  if (!truth || watch == nullptr || entry == nullptr) return std::nullopt;
  const int shown = calc_shown_control(x, *watch);
  const auto off = [&](int score) {
    const int error = *entry->finding.control - score;
    return error < 0 ? -error : error;
  };
  const int error = std::min(off(*truth), off(shown));
  return JudgedControl{entry, shown, error == 0 ? 1.0 : error == 1 ? 0.5 : 0.0};
}

std::optional<double> judge_test(const Examined& x, const Finding& f) {
  const auto as_share = [](bool right) { return right ? 1.0 : 0.0; };
  switch (f.test) {
    case FindingTest::near_point:
      if (!f.break_value) return std::nullopt;
      return as_share(is_near_point_right(x, *f.break_value));
    case FindingTest::reserves:
      if (!f.break_value) return std::nullopt;
      return as_share(is_reserve_right(x, f));
    case FindingTest::ac_a: {
      if (!f.ac_a_pd_per_d) return std::nullopt;
      Tick at_ms = 0;
      const double lens_d = find_lens_change(x.evidence, at_ms);
      return as_share(is_ac_a_right(x, *f.ac_a_pd_per_d, lens_d,
                                    is_tested(x.places[0]) && is_tested(x.places[1])));
    }
    case FindingTest::four_dioptre: {
      if (!f.response) return std::nullopt;
      bool right = true;
      for (const Eye eye : kBothEyes) {
        const FindingEye word = eye == Eye::right ? FindingEye::right : FindingEye::left;
        const bool said = f.eye == word || f.eye == FindingEye::both || !f.eye;
        right = right && (!said || response_is_right(x, eye, *f.response));
      }
      return as_share(right);
    }
    case FindingTest::control: {
      const bool near = f.distance_m.value_or(6.0) <= kWithinReachM;
      const auto judged = judge_control(x, near);
      return judged ? std::optional(judged->share) : std::nullopt;
    }
    case FindingTest::reflexes: return as_share(are_reflexes_right(x, f));
    default: return std::nullopt;
  }
}

bool has_further_evidence(const Examined& x, const Finding& f) {
  switch (f.test) {
    case FindingTest::four_dioptre:
      return std::any_of(x.evidence.four_dioptre.begin(), x.evidence.four_dioptre.end(),
                         [&](const FourDioptreTrial& t) {
                           const bool eye = f.eye == FindingEye::both || !f.eye ||
                                            (f.eye == FindingEye::right) == (t.eye == Eye::right);
                           return eye && t.seen.has_value();
                         });
    case FindingTest::near_point: return find_approach(x) != nullptr;
    case FindingTest::reserves: return has_prism_run(x, f);
    case FindingTest::ac_a: {
      Tick at_ms = 0;
      return find_lens_change(x.evidence, at_ms) > 0.0 ||
             (is_tested(x.places[0]) && is_tested(x.places[1]));
    }
    case FindingTest::gaze:
      return find_transfer(x.evidence, f.gaze_horizontal_deg.value_or(0.0),
                           f.gaze_vertical_deg.value_or(0.0),
                           f.head_roll_deg.value_or(0.0)) != nullptr;
    case FindingTest::control:
      return find_first_watch(x, f.distance_m.value_or(6.0) <= kWithinReachM) != nullptr;
    case FindingTest::reflexes: return x.evidence.penlight_ms >= kPenlightMs;
    case FindingTest::motility: return x.evidence.looked_aside;
    default: return true;
  }
}

double share_of_test(CalledTest test, const Examined& x, Mark& mark) {
  switch (test) {
    case CalledTest::near_point: return share_of_near_point(x, mark);
    case CalledTest::reserves: return share_of_reserves(x, mark);
    case CalledTest::ac_a: return share_of_ac_a(x, mark);
    case CalledTest::four_dioptre: return share_of_four_dioptre(x, mark);
    case CalledTest::control_score: return share_of_control(x, mark);
    case CalledTest::nine_gazes: return share_of_gazes(x, mark);
    case CalledTest::head_tilt: return share_of_tilts(x, mark);
    case CalledTest::corneal_reflexes: return share_of_reflexes(x, mark);
    case CalledTest::eye_movements: return share_of_movements(x, mark);
  }
  return 0.0;
}

}  // namespace redress::scoring
