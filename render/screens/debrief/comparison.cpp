// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/screens/debrief/comparison.hpp"

#include <algorithm>
#include <cmath>
#include <optional>
#include <string_view>

#include <fmt/format.h>

#include "sim/findings/recovery.hpp"
#include "sim/findings/shorthand.hpp"
#include "sim/scoring/judged.hpp"
#include "sim/scoring/rubric.hpp"

namespace redress::screens::debrief {

using findings::grade_word;
using findings::write_distance;
using findings::write_number;
using findings::WrittenFinding;

namespace {

constexpr auto kUk = findings::Tradition::uk;
constexpr const char* kNotWritten = "not written";

double to_tenth(double x) { return std::round(10.0 * x) / 10.0; }

Judged judge_share(double share) {
  return share >= 1.0 ? Judged::full : share > 0.0 ? Judged::part : Judged::none;
}

Judged judge_grade(scoring::Grade grade) {
  switch (grade) {
    case scoring::Grade::full: return Judged::full;
    case scoring::Grade::half: return Judged::part;
    case scoring::Grade::none: return Judged::none;
    case scoring::Grade::removed: break;
  }
  return Judged::unjudged;
}

std::string name_place(double distance_m, std::optional<bool> spectacles) {
  return write_distance(distance_m) + (spectacles ? *spectacles ? ", cc" : ", sc" : "");
}

const char* response_word(FourDioptreResponse response) {
  switch (response) {
    case FourDioptreResponse::typical: return "normal";
    case FourDioptreResponse::no_movement: return "no movement";
    case FourDioptreResponse::version_without_return: return "no refixation";
  }
  return "";
}

const char* urgency_word(Urgency urgency) {
  switch (urgency) {
    case Urgency::same_day: return "same day";
    case Urgency::urgent: return "urgent";
    case Urgency::soon: return "soon";
    case Urgency::routine: return "routine";
  }
  return "";
}

// Capital letters make no difference.
bool same_words(std::string_view a, std::string_view b) {
  const auto lower = [](char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c + 32) : c; };
  return std::equal(a.begin(), a.end(), b.begin(), b.end(),
                    [&](char x, char y) { return lower(x) == lower(y); });
}

class Comparer {
 public:
  Comparer(const scoring::Examined& x, const scoring::ScoreSheet& sheet)
      : x_(x), case_(x.the_case), truth_(x.truth), card_(x.card), sheet_(sheet) {}

  std::vector<ComparedRow> compare() {
    for (const scoring::Place& place : x_.places) add_place(place);
    for (const WrittenFinding& entry : card_.entries) {
      const Finding& f = entry.finding;
      if (is_of_covers(f) && f.distance_m && !is_done(&entry)) add_covers(entry);
    }
    for (const WrittenFinding& entry : card_.entries) add_recovery(entry);
    for (const WrittenFinding& entry : card_.entries) add_other(entry);
    add_reason();
    return std::move(rows_);
  }

 private:
  static bool is_of_covers(const Finding& f) {
    return f.test == FindingTest::cover_test || f.test == FindingTest::prism_cover;
  }
  [[nodiscard]] bool is_done(const WrittenFinding* entry) const {
    return std::find(done_.begin(), done_.end(), entry) != done_.end();
  }

  // What was not written where the case calls for it is said.
  void add_place(const scoring::Place& called) {
    bool written = false;
    for (const WrittenFinding& entry : card_.entries) {
      const Finding& f = entry.finding;
      if (!is_of_covers(f) || !f.distance_m) continue;
      if (*f.distance_m < called.low_m || *f.distance_m > called.high_m) continue;
      add_covers(entry);
      written = true;
    }
    if (written) return;
    std::optional<bool> said;
    if (called.used_spectacles) said = true;
    rows_.push_back({name_place(called.used_m, said), kNotWritten,
                     findings::write_shorthand_bare(
                         place(describe(called.there.right, false), called.used_m), kUk),
                     Judged::none, 0});
  }

  static Finding place(Finding f, double distance_m) {
    f.distance_m = distance_m;
    return f;
  }

  void add_covers(const WrittenFinding& entry) {
    done_.push_back(&entry);
    const Finding& f = entry.finding;
    const bool prism = f.test == FindingTest::prism_cover;
    const scoring::JudgedDeviation judged = scoring::judge_deviation(x_, entry);
    const truth::Condition& c = judged.there;
    Finding plain = f;
    plain.recovery.reset();  // has a row of its own
    plain.remark.clear();
    plain.comitant.reset();
    if (prism) {
      plain.test = FindingTest::cover_test;  // the row says that it was a prism
      plain.method = SizeMethod::estimated;
    }
    ComparedRow row;
    row.finding = name_place(*f.distance_m, f.spectacles) + (prism ? ", prism" : "");
    row.written = findings::write_shorthand_bare(plain, kUk);
    Finding there = place(describe(c, prism), *f.distance_m);
    if (prism && !f.kind) there.kind.reset();
    row.there = findings::write_shorthand_bare(there, kUk) + add_manifest(c, prism);
    row.judged = judge_share(judged.share);
    row.at_ms = entry.at_ms;
    rows_.push_back(std::move(row));
  }

  // A microtropia: what covering the fixing eye shows is less than what alternating shows.
  static std::string add_manifest(const truth::Condition& c, bool prism) {
    if (prism || c.manifest == truth::Manifest::none) return {};
    const double manifest = std::abs(c.manifest_horizontal_pd);
    if (std::abs(std::abs(c.horizontal_pd) - manifest) < scoring::kSeenHorizontalPd) return {};
    return fmt::format(", {}Δ of it manifest", write_number(std::round(manifest)));
  }

  void add_recovery(const WrittenFinding& entry) {
    const Finding& f = entry.finding;
    if (!f.recovery || !f.distance_m) return;
    const scoring::JudgedRecovery judged =
        scoring::judge_recovery(x_, scoring::find_place_of(x_, entry), *f.recovery);
    ComparedRow row;
    row.finding = "Recovery, " + write_distance(*f.distance_m);
    row.written = grade_word(*f.recovery);
    row.there = grade_word(judged.rule);
    if (judged.rule_ms) {
      row.there += fmt::format(", {} s", write_number(to_tenth(*judged.rule_ms / 1000.0)));
    }
    if (judged.today && *judged.today != judged.rule) {
      row.there += std::string("; today ") + grade_word(*judged.today);
    }
    row.judged = judge_share(judged.share);
    row.at_ms = entry.at_ms;
    rows_.push_back(std::move(row));
  }

  void add_other(const WrittenFinding& entry) {
    const Finding& f = entry.finding;
    ComparedRow row;
    row.at_ms = entry.at_ms;
    switch (f.test) {
      case FindingTest::near_point: fill_near_point(f, row); break;
      case FindingTest::reserves: fill_reserves(f, row); break;
      case FindingTest::ac_a: fill_ac_a(f, row); break;
      case FindingTest::four_dioptre: fill_four_dioptre(f, row); break;
      default: return;
    }
    if (row.finding.empty()) return;
    if (const auto share = scoring::judge_test(x_, f)) row.judged = judge_share(*share);
    rows_.push_back(std::move(row));
  }

  static std::string say(std::optional<double> value) {
    return value ? write_number(std::round(*value)) : "–";
  }

  void fill_near_point(const Finding& f, ComparedRow& row) const {
    row.finding = "Near point";
    row.written = say(f.break_value) + " / " + say(f.recovery_value) + " cm";
    row.there =
        say(truth_.near_point_break_cm) + " / " + say(truth_.near_point_recovery_cm) + " cm";
  }

  void fill_reserves(const Finding& f, ComparedRow& row) const {
    if (!f.distance_m || (f.base != "in" && f.base != "out")) return;
    for (const truth::ReservesAt& at : truth_.reserves) {
      if (!findings::is_same_distance(*f.distance_m, at.distance_m)) continue;
      const truth::ReserveReading& r = f.base == "out" ? at.base_out : at.base_in;
      row.finding = "Base " + f.base + ", " + write_distance(*f.distance_m);
      row.written =
          fmt::format("{} / {} / {}", say(f.blur_value), say(f.break_value), say(f.recovery_value));
      row.there = fmt::format("{} / {} / {}", say(r.blur_pd), say(r.break_pd), say(r.recovery_pd));
      return;
    }
  }

  void fill_ac_a(const Finding& f, ComparedRow& row) const {
    if (!f.ac_a_pd_per_d) return;
    row.finding = "AC/A";
    row.written = write_number(*f.ac_a_pd_per_d);
    row.there = write_number(to_tenth(truth_.ac_a_gradient_pd_per_d)) + " by gradient";
  }

  void fill_four_dioptre(const Finding& f, ComparedRow& row) const {
    if (!f.response) return;
    const bool left = f.eye == FindingEye::left;
    const bool both = f.eye == FindingEye::both;
    row.finding = std::string("4Δ base out") + (both ? ", R and L" : left ? ", L" : ", R");
    row.written = response_word(*f.response);
    const FourDioptreResponse right_there = truth_.four_dioptre.right;
    const FourDioptreResponse left_there = truth_.four_dioptre.left;
    row.there = response_word(left ? left_there : right_there);
    if (both && left_there != right_there)
      row.there += std::string(", L ") + response_word(left_there);
  }

  [[nodiscard]] Judged grade_of(scoring::Item item) const {
    for (const scoring::ItemScore& score : sheet_.items) {
      if (score.item == item) return judge_grade(score.grade);
    }
    return Judged::unjudged;
  }

  void add_reason() {
    const WrittenFinding* impression = nullptr;
    const WrittenFinding* urgency = nullptr;
    for (const WrittenFinding& entry : card_.entries) {
      if (entry.finding.test == FindingTest::impression) impression = &entry;
      if (entry.finding.urgency) urgency = &entry;
    }
    const std::string& expected =
        case_.expected.diagnosis.empty() ? truth_.diagnosis : case_.expected.diagnosis;
    const Judged judged = grade_of(scoring::Item::g1);
    const bool written = impression != nullptr && !impression->finding.diagnosis.empty();
    const bool right = written && same_words(impression->finding.diagnosis, expected);
    // Right words that no test stands behind earn nothing; a bare cross beside them would puzzle.
    const std::string there = judged == Judged::full ? "the same"
                              : right                ? "the same, untested"
                                                     : expected;
    rows_.push_back({"Impression", written ? impression->finding.diagnosis : kNotWritten, there,
                     judged, impression != nullptr ? impression->at_ms : 0});
    if (!case_.expected.urgency) return;
    rows_.push_back({"How soon",
                     urgency != nullptr ? urgency_word(*urgency->finding.urgency) : kNotWritten,
                     urgency_word(*case_.expected.urgency), grade_of(scoring::Item::g3),
                     urgency != nullptr ? urgency->at_ms : 0});
  }

  const scoring::Examined& x_;
  const Case& case_;
  const truth::Truth& truth_;
  const findings::RecordCard& card_;
  const scoring::ScoreSheet& sheet_;
  std::vector<const WrittenFinding*> done_;
  std::vector<ComparedRow> rows_;
};

}  // namespace

Finding describe(const truth::Condition& c, bool by_prism) {
  Finding f;
  const double h =
      by_prism ? c.neutralising_horizontal_pd.value_or(c.horizontal_pd) : c.horizontal_pd;
  const double v = by_prism ? c.neutralising_vertical_pd.value_or(c.vertical_pd) : c.vertical_pd;
  const bool across = std::abs(h) >= scoring::kSeenHorizontalPd;
  const bool up = std::abs(v) >= scoring::kSeenVerticalPd;
  if (across) f.horizontal_pd = to_tenth(h);
  if (up) f.vertical_pd = to_tenth(v);
  f.method = SizeMethod::estimated;
  if (c.manifest == truth::Manifest::none) {
    f.kind = across || up ? FindingKind::phoria : FindingKind::none;
    return f;
  }
  f.kind = FindingKind::tropia;
  f.constancy =
      c.manifest == truth::Manifest::constant ? Constancy::constant : Constancy::intermittent;
  // A manifest part below what is seen is there all the same: a microtropia.
  if (!across && !up) f.horizontal_pd = to_tenth(h);
  switch (c.deviating_eye) {
    case truth::DeviatingEye::right: f.eye = FindingEye::right; break;
    case truth::DeviatingEye::left: f.eye = FindingEye::left; break;
    case truth::DeviatingEye::alternating: f.eye = FindingEye::alternating; break;
    case truth::DeviatingEye::none: break;
  }
  return f;
}

std::vector<ComparedRow> compare(const scoring::Examined& examined,
                                 const scoring::ScoreSheet& sheet) {
  return Comparer(examined, sheet).compare();
}

}  // namespace redress::screens::debrief
