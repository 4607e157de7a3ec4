// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The rubric on the shipped cases: by acts written by hand, and by the built-in examiners.
#include <catch2/catch.hpp>

#include <fstream>
#include <map>
#include <set>
#include <sstream>
#include <string>
#include <vector>

#include "sim/cases/case_file.hpp"
#include "sim/cases/setup.hpp"
#include "sim/examiners/examine.hpp"
#include "sim/record/run.hpp"
#include "sim/scoring/score.hpp"
#include "tests/support/places.hpp"
#include "tests/support/story.hpp"

using namespace redress;
using namespace redress::scoring;
using namespace redress::tests;

namespace {

constexpr const char* kCases[] = {
    "no_deviation",           "exophoria",  "near_esophoria_high_ac_a", "right_esotropia",
    "intermittent_exotropia", "microtropia"};

struct Patient {
  Case the_case;
  ExaminationSetup setup;
  truth::Truth truth;
};

const Patient& patient_of(const std::string& name) {
  static std::map<std::string, Patient> known;
  const auto it = known.find(name);
  if (it != known.end()) return it->second;
  std::ifstream file(support::scenario_path(name));
  std::stringstream text;
  text << file.rdbuf();
  const Result<Case> read = read_case_text(text.str());
  REQUIRE(read.ok());
  Patient p{read.value(), setup_of(read.value()), {}};
  p.truth = truth::calc_truth(
      p.setup,
      {p.the_case.patient.screen_distance.value, p.the_case.patient.near_working_distance.value},
      {true, false, false});
  return known.emplace(name, std::move(p)).first->second;
}

ScoreSheet score(const Patient& p, const std::vector<Act>& acts, double noise = 0.0) {
  return calc_score(p.the_case, p.setup, acts, Chance{p.the_case.seed, noise, true},
                    record::calc_default_until(acts), p.truth);
}

ScoreSheet score_examiner(const Patient& p, examiners::Habits habits, std::uint64_t seed) {
  habits.near_m = p.the_case.patient.near_working_distance.value;
  habits.owns_spectacles = p.setup.room.spectacles_owned;
  habits.seed = seed;
  const Chance chance{seed, 1.0, true};
  Examination exam(p.setup, chance);
  const examiners::Examined done = examiners::examine(exam, habits);
  return calc_score(p.the_case, p.setup, done.acts, chance, done.until, p.truth);
}

const ItemScore& item(const ScoreSheet& sheet, Item which) {
  return sheet.items.at(static_cast<std::size_t>(which));
}

/// Items below full marks.
std::set<std::string> lost_items(const ScoreSheet& sheet) {
  std::set<std::string> lost;
  for (const ItemScore& i : sheet.items) {
    if (i.grade != Grade::removed && i.marks < i.max - 1e-9) {
      lost.insert(kRubric[static_cast<std::size_t>(i.item)].name);
    }
  }
  return lost;
}

Act note(Tick at_ms, const Finding& finding) { return {at_ms, act::Note{finding}}; }

Finding cover_test(double distance_m, FindingKind kind, double horizontal_pd) {
  Finding f;
  f.test = FindingTest::cover_test;
  f.distance_m = distance_m;
  f.spectacles = false;
  f.kind = kind;
  f.horizontal_pd = horizontal_pd;
  f.vertical_pd = 0.0;
  f.method = SizeMethod::estimated;
  f.recovery = RecoveryGrade::rapid;
  return f;
}

Finding impression(const std::string& text) {
  Finding f;
  f.test = FindingTest::impression;
  f.diagnosis = text;
  return f;
}

Finding plan(Urgency urgency, const std::string& advice = "Review at the usual interval.") {
  Finding f;
  f.test = FindingTest::plan;
  f.advice = advice;
  f.urgency = urgency;
  return f;
}

/// Cover-uncover of each eye, twice, at both distances; no prism. Cover time in ms.
std::vector<Act> cover_both(Tick cover_ms, double near_m = 0.4) {
  std::vector<Act> acts{{0, act::Ask{"onset"}},
                        {0, act::Ask{"double_vision"}},
                        {0, act::Instruct{Instruction::look}}};
  Tick t = 5000;
  for (const double distance_m : {6.0, near_m}) {
    acts.push_back(show(t, distance_m));
    t += 4000;
    for (const Eye eye : {Eye::right, Eye::left, Eye::right, Eye::left}) {
      acts.push_back(cover(t, eye));
      acts.push_back(uncover(t + cover_ms));
      t += cover_ms + 4000;
    }
  }
  return acts;
}

std::vector<Act> with_notes(std::vector<Act> acts, const std::vector<Finding>& findings) {
  Tick t = (acts.empty() ? 0 : acts.back().at_ms) + 5000;
  for (const Finding& f : findings) acts.push_back(note(t += 500, f));
  return acts;
}

}  // namespace

TEST_CASE("the weights of each column come to 100", "[scoring]") {
  double formative = 0.0;
  double station = 0.0;
  for (const RubricLine& line : kRubric) {
    formative += line.formative;
    station += line.station;
  }
  CHECK(formative == 100.0);
  CHECK(station == 100.0);
}

TEST_CASE("tolerances have no cliffs and end where they should", "[scoring]") {
  // practice.md A7: 10 -> 2, 20 -> 4, 35 -> 7, 40 -> 8, 60 -> 8.
  CHECK(calc_tolerance(1, false, false) == Approx(2));
  CHECK(calc_tolerance(-10, false, false) == Approx(2));
  CHECK(calc_tolerance(20, false, false) == Approx(4));
  CHECK(calc_tolerance(35, false, false) == Approx(7));
  CHECK(calc_tolerance(60, false, false) == Approx(8));
  CHECK(calc_tolerance(2, true, false) == Approx(1));
  CHECK(calc_tolerance(30, true, false) == Approx(4));
  CHECK(calc_tolerance(5, false, true) == Approx(3));
  CHECK(calc_tolerance(20, false, true) == Approx(8));
  for (double truth = 0; truth < 60; truth += 0.1) {
    const double step =
        calc_tolerance(truth + 0.1, false, false) - calc_tolerance(truth, false, false);
    CHECK((step >= 0.0 && step < 0.021));
  }
}

TEST_CASE("idle: nothing, or only a verdict, is worth nothing", "[scoring]") {
  for (const char* name : kCases) {
    INFO(name);
    const Patient& p = patient_of(name);
    CHECK(score(p, {}).total < 10.0);
    const auto verdict =
        with_notes({}, {cover_test(6, FindingKind::none, 0), cover_test(0.4, FindingKind::none, 0),
                        impression("no deviation"), plan(Urgency::routine)});
    CHECK(score(p, verdict).total < 10.0);
    const auto exo = with_notes(
        {}, {cover_test(6, FindingKind::phoria, -4), cover_test(0.4, FindingKind::phoria, -4),
             impression("exophoria"), plan(Urgency::routine)});
    CHECK(score(p, exo).total < 30.0);
  }
}

TEST_CASE("a finding without evidence earns nothing, with evidence it does", "[scoring]") {
  const Patient& p = patient_of("exophoria");
  const std::vector<Finding> right{cover_test(6, FindingKind::phoria, -6),
                                   cover_test(0.4, FindingKind::phoria, -9),
                                   impression("exophoria"), plan(Urgency::routine)};
  const ScoreSheet untested = score(p, with_notes({}, right));
  const ScoreSheet tested = score(p, with_notes(cover_both(4000), right));
  for (const Item i : {Item::d1, Item::d2, Item::d3, Item::d5, Item::f, Item::g1}) {
    INFO(kRubric[static_cast<std::size_t>(i)].name);
    CHECK(item(untested, i).marks == 0.0);
    CHECK(item(tested, i).grade == Grade::full);
    CHECK_FALSE(item(tested, i).evidence.empty());
  }
  // Prism was never used: those marks are not there.
  CHECK(item(tested, Item::c3).marks == 0.0);
}

TEST_CASE("covers below 1.5 s show nothing", "[scoring]") {
  const Patient& p = patient_of("exophoria");
  const std::vector<Finding> right{cover_test(6, FindingKind::phoria, -6),
                                   cover_test(0.4, FindingKind::phoria, -9)};
  const ScoreSheet sheet = score(p, with_notes(cover_both(1000), right));
  CHECK(item(sheet, Item::b2).marks == 0.0);
  CHECK(item(sheet, Item::d1).marks == 0.0);
  CHECK(item(sheet, Item::d3).marks == 0.0);
  CHECK(item(sheet, Item::b1).grade == Grade::full);
}

TEST_CASE("an estimate by eye has its own tolerance, direction is apart from size", "[scoring]") {
  const Patient& p = patient_of("exophoria");  // 6 and 9 of exo
  const auto sheet_for = [&](double far, double near) {
    return score(p, with_notes(cover_both(4000), {cover_test(6, FindingKind::phoria, far),
                                                  cover_test(0.4, FindingKind::phoria, near)}));
  };
  CHECK(item(sheet_for(-8.5, -12), Item::d3).grade == Grade::full);  // within 3 and 3.6
  const ScoreSheet half = sheet_for(-11, -15.5);                     // within twice that
  CHECK(item(half, Item::d3).marks == Approx(0.5 * item(half, Item::d3).max));
  CHECK(item(half, Item::d2).grade == Grade::full);
  const ScoreSheet wrong = sheet_for(6, 9);
  CHECK(item(wrong, Item::d2).marks == 0.0);
  CHECK(item(wrong, Item::d3).marks == 0.0);
  CHECK(item(wrong, Item::d1).grade == Grade::full);
}

TEST_CASE("below what can be seen no movement is right, and so is a phoria", "[scoring]") {
  const Patient& p = patient_of("no_deviation");
  for (const FindingKind kind : {FindingKind::none, FindingKind::phoria}) {
    const double far = kind == FindingKind::none ? 0.0 : -1.0;
    const ScoreSheet sheet =
        score(p, with_notes(cover_both(4000),
                            {cover_test(6, kind, far), cover_test(0.4, FindingKind::phoria, -3)}));
    CHECK(item(sheet, Item::d1).grade == Grade::full);
    CHECK(item(sheet, Item::d2).grade == Grade::full);
    CHECK(item(sheet, Item::d3).grade == Grade::full);
  }
}

TEST_CASE("alternating alone cannot tell latent from manifest", "[scoring]") {
  // Rule 2: D1 = 0, total at most 59.
  const Patient& p = patient_of("exophoria");
  std::vector<Act> acts;
  Tick t = 4000;
  for (int i = 0; i < 10; ++i, t += 1800) {
    acts.push_back(cover(t, i % 2 == 0 ? Eye::right : Eye::left));
  }
  acts.push_back(uncover(t));
  const ScoreSheet sheet = score(p, with_notes(acts, {cover_test(6, FindingKind::phoria, -6)}));
  CHECK(item(sheet, Item::d1).marks == 0.0);
  CHECK(item(sheet, Item::c1).grade == Grade::full);
  bool capped = false;
  for (const Cap& cap : sheet.caps) capped = capped || (cap.rule == 2 && cap.limit == 59.0);
  CHECK(capped);
}

TEST_CASE("what is denied is not proposed, and help in time is no harm", "[scoring]") {
  Patient p = patient_of("exophoria");
  p.the_case.expected.red_flag = true;
  p.the_case.expected.urgency = Urgency::same_day;
  const auto unsafe = [&](Urgency urgency, const std::string& advice) {
    std::vector<Act> acts = cover_both(3000);
    acts.push_back(note(acts.back().at_ms + 100, plan(urgency, advice)));
    const ScoreSheet sheet = score(p, acts);
    // Rule 4 of the caps: a plan that harms.
    return std::any_of(sheet.caps.begin(), sheet.caps.end(),
                       [](const Cap& cap) { return cap.rule == 4; });
  };
  CHECK(unsafe(Urgency::soon, "Exercises, and prism if they fail."));
  CHECK(unsafe(Urgency::soon, "Back in 6 months."));
  CHECK_FALSE(unsafe(Urgency::soon, "Refer. No prism, no exercises: this is not a squint."));
  CHECK_FALSE(unsafe(Urgency::same_day, "Refer now; a prism for the meantime."));
}

TEST_CASE("urgency caps", "[scoring]") {
  const Patient& p = patient_of("exophoria");
  const std::vector<Finding> good{cover_test(6, FindingKind::phoria, -6),
                                  cover_test(0.4, FindingKind::phoria, -9),
                                  impression("exophoria")};
  const auto sheet_for = [&](Case c, Urgency written) {
    std::vector<Finding> all = good;
    all.push_back(plan(written, "Refer to ophthalmology."));
    const auto acts = with_notes(cover_both(4000), all);
    return calc_score(c, p.setup, acts, Chance{1, 0.0, true}, record::calc_default_until(acts),
                      p.truth);
  };
  Case flagged = p.the_case;
  flagged.expected.urgency = Urgency::same_day;
  flagged.expected.red_flag = true;
  const ScoreSheet missed = sheet_for(flagged, Urgency::routine);
  CHECK(missed.unsafe);
  CHECK(missed.total <= 39.0);
  CHECK(sheet_for(flagged, Urgency::urgent).total <= 59.0);
  CHECK_FALSE(sheet_for(flagged, Urgency::urgent).unsafe);
  CHECK_FALSE(sheet_for(flagged, Urgency::same_day).unsafe);
  CHECK(item(sheet_for(p.the_case, Urgency::urgent), Item::g3).marks == 0.0);
  CHECK(item(sheet_for(p.the_case, Urgency::routine), Item::g3).grade == Grade::full);
}

TEST_CASE("three entries that nothing could have shown are noted", "[scoring]") {
  const Patient& p = patient_of("exophoria");
  const auto sheet = score(p, with_notes({}, {cover_test(6, FindingKind::phoria, -6),
                                              cover_test(0.4, FindingKind::phoria, -9),
                                              cover_test(20, FindingKind::phoria, -6)}));
  CHECK(sheet.notes.size() == 1);
}

TEST_CASE("the reference examiner scores 95 and more on each case", "[scoring]") {
  for (const char* name : kCases) {
    for (std::uint64_t seed = 1; seed <= 3; ++seed) {
      INFO(name << ", seed " << seed);
      CHECK(score_examiner(patient_of(name), {}, seed).total >= 95.0);
    }
  }
}

TEST_CASE("random acts and entries are worth little", "[scoring]") {
  double sum = 0.0;
  int count = 0;
  for (const char* name : kCases) {
    for (std::uint64_t seed = 1; seed <= 6; ++seed) {
      examiners::Habits habits;
      habits.kind = examiners::Kind::random;
      sum += score_examiner(patient_of(name), habits, seed).total;
      ++count;
    }
  }
  CHECK(sum / count < 15.0);
}

TEST_CASE("each fault lowers only its own marks", "[scoring]") {
  // Noise is on: what the patient's own spread costs is not the fault's doing.
  const auto lost_to = [](const char* name, examiners::Fault fault) {
    examiners::Habits habits;
    habits.fault = fault;
    return lost_items(score_examiner(patient_of(name), habits, 3));
  };
  for (const char* name : {"exophoria", "right_esotropia", "microtropia"}) {
    INFO(name);
    CHECK(lost_to(name, examiners::Fault::short_covers) == std::set<std::string>{"B2"});
    CHECK(lost_to(name, examiners::Fault::wrong_base) == std::set<std::string>{"C2"});
    CHECK(lost_to(name, examiners::Fault::letter_too_small) == std::set<std::string>{"A3"});
    const std::set<std::string> near{"A3", "B1", "C5", "D1", "D2", "D3", "D4", "D5"};
    for (const std::string& lost : lost_to(name, examiners::Fault::no_near_test)) {
      INFO(lost);
      CHECK(near.count(lost) == 1);
    }
  }
}

TEST_CASE("the score as JSON", "[scoring]") {
  const Patient& p = patient_of("exophoria");
  const nlohmann::json json = to_json(score(p, {}));
  CHECK(json.at("total") == 0.0);
  CHECK(json.at("items").size() == kItemCount);
  CHECK(json.at("lost").size() == 3);
  CHECK(json.at("items").at(0).at("item") == "A1");
  CHECK(json.at("caution").is_string());
  double max = 0.0;
  for (const auto& i : json.at("items")) max += i.at("max").get<double>();
  CHECK(max == Approx(100.0).margin(0.1));
}
