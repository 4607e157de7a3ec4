// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// In what state of correction the eyes were tested (A2, A3), and what the plan holds (G2).
#include <catch2/catch.hpp>

#include <string>
#include <vector>

#include "sim/scoring/examined.hpp"
#include "sim/scoring/score.hpp"
#include "tests/scoring/scored_patient.hpp"

using namespace redress;
using namespace redress::scoring;
using namespace redress::tests;

namespace {

const ItemScore& item(const ScoreSheet& sheet, Item which) {
  return sheet.items.at(static_cast<std::size_t>(which));
}

double share(const ScoreSheet& sheet, Item which) {
  const ItemScore& i = item(sheet, which);
  INFO(kRubric[static_cast<std::size_t>(which)].name << ": " << i.why);
  REQUIRE(i.grade != Grade::removed);
  return i.marks / i.max;
}

ScoreSheet score(const Patient& p, const std::vector<Act>& acts) {
  return calc_score(p.the_case, p.setup, acts, Chance{1, 0.0, true},
                    record::calc_default_until(acts), p.truth);
}

Act note(Tick at_ms, const Finding& finding) { return {at_ms, act::Note{finding}}; }

Finding found_at(double distance_m, double horizontal_pd) {
  Finding f;
  f.test = FindingTest::cover_test;
  f.distance_m = distance_m;
  f.kind = FindingKind::phoria;
  f.horizontal_pd = horizontal_pd;
  f.vertical_pd = 0.0;
  f.method = SizeMethod::estimated;
  f.recovery = RecoveryGrade::rapid;
  return f;
}

/// What is put on before the covers at near.
enum class Near { bare, glasses, trial_lenses };

/// A presbyope looked at far and near, with this on at near; letters of 0.3, or larger where those
/// are not seen. Far without anything.
std::vector<Act> examine_presbyope(Near near, double near_m = 0.4) {
  std::vector<Act> acts{{0, act::Ask{"onset"}}, {0, act::Instruct{Instruction::look}}};
  Tick t = 5000;
  for (const double distance_m : {6.0, near_m}) {
    act::ShowTarget target;
    target.distance_m = distance_m;
    acts.push_back({t, target});
    if (distance_m < 1.0 && near == Near::glasses) acts.push_back({t, act::Spectacles{true}});
    if (distance_m < 1.0 && near == Near::trial_lenses) acts.push_back(lenses(t, 2.5));
    t += 4000;
    for (const Eye eye : {Eye::right, Eye::left, Eye::right, Eye::left}) {
      acts.push_back(cover(t, eye));
      acts.push_back(uncover(t + 4500));
      t += 8500;
    }
  }
  acts.push_back(note(t += 500, found_at(6.0, -1)));
  acts.push_back(note(t += 500, found_at(near_m, -9)));
  return acts;
}

constexpr const char* kPresbyope = R"("patient": {"age_years": 66,
    "answers": {"onset": "Nothing new."}},
  "refraction": {"spectacles": {"right": {"sphere_d": 2.5}, "left": {"sphere_d": 2.5},
                 "worn": false}},
  "deviation": {"distance_pd": -1, "near_pd": -9, "ac_a_pd_per_d": 4})";

constexpr const char* kWithoutGlasses = R"("patient": {"age_years": 66,
    "answers": {"onset": "Nothing new."}},
  "deviation": {"distance_pd": -1, "near_pd": -9, "ac_a_pd_per_d": 4})";

}  // namespace

TEST_CASE("a presbyope is tested at near through glasses or trial lenses", "[scoring]") {
  const Patient owner = make_patient(kPresbyope);
  const ScoreSheet with = score(owner, examine_presbyope(Near::glasses));
  for (const Item i : {Item::a2, Item::a3, Item::b1, Item::b2, Item::d1, Item::d2, Item::d3}) {
    CHECK(share(with, i) == 1.0);
  }
  // Reading glasses at home: trial lenses are as good.
  for (const Patient& p : {owner, make_patient(kWithoutGlasses)}) {
    const ScoreSheet lens = score(p, examine_presbyope(Near::trial_lenses));
    for (const Item i : {Item::a2, Item::a3, Item::b1, Item::b2, Item::d1, Item::d2, Item::d3}) {
      CHECK(share(lens, i) == 1.0);
    }
    // Nothing on: near is a blur.
    const ScoreSheet bare = score(p, examine_presbyope(Near::bare));
    CHECK(share(bare, Item::a2) == 0.5);
    CHECK(share(bare, Item::a3) < 1.0);
  }
}

TEST_CASE("reading glasses are for reading: worn at 6 m they are the wrong correction",
          "[scoring]") {
  const Patient p = make_patient(kPresbyope);
  std::vector<Act> acts = examine_presbyope(Near::glasses);
  acts.insert(acts.begin(), {0, act::Spectacles{true}});
  const ScoreSheet sheet = score(p, acts);
  CHECK(share(sheet, Item::a2) == 0.5);
  CHECK(item(sheet, Item::a2).why.find("6 m: not tested without the glasses") == 0);
}

TEST_CASE("an addition is tested through with the target lowered", "[scoring]") {
  const Patient p = make_patient(R"("patient": {"age_years": 66},
    "refraction": {"spectacles": {"right": {"sphere_d": 0}, "left": {"sphere_d": 0}, "add_d": 2.5,
                   "design": "bifocal"}},
    "deviation": {"distance_pd": -1, "near_pd": -9, "ac_a_pd_per_d": 4})");
  const auto with = [&](double gaze_deg, bool checked) {
    std::vector<Act> acts = examine_presbyope(Near::glasses);
    for (Act& a : acts) {
      auto* target = std::get_if<act::ShowTarget>(&a.content);
      if (target != nullptr && target->distance_m < 1.0) target->vertical_deg = gaze_deg;
    }
    if (checked) acts.insert(acts.begin(), {0, act::Request{"spectacles"}});
    return score(p, acts);
  };
  CHECK(share(with(-25.0, true), Item::a2) == 1.0);
  CHECK(share(with(-25.0, true), Item::b1) == 1.0);
  CHECK(share(with(-25.0, false), Item::a2) == 0.5);  // an addition nobody looked for
  CHECK(share(with(0.0, true), Item::a2) == 0.5);     // past it
}

TEST_CASE("near is tested at 33 or 40 cm, or where the patient works", "[scoring]") {
  const auto share_at = [](const char* working, double near_m) {
    const Patient p = make_patient(std::string(R"("patient": {"age_years": 25)") + working +
                                   R"(}, "deviation": {"distance_pd": -1, "near_pd": -4})");
    return share(score(p, examine_presbyope(Near::bare, near_m)), Item::a3);
  };
  CHECK(share_at("", 0.40) == 1.0);
  CHECK(share_at("", 0.33) == 1.0);
  CHECK(share_at("", 0.28) == 0.5);
  // Somebody who works at 50 cm is tested there, within 10 %.
  const char* far_worker = R"(, "near_working_distance_cm": 50)";
  CHECK(share_at(far_worker, 0.50) == 1.0);
  CHECK(share_at(far_worker, 0.46) == 1.0);
  CHECK(share_at(far_worker, 0.40) == 0.5);
}

TEST_CASE("where the case asks for it the glasses come off as well", "[scoring]") {
  const Patient p = make_patient(R"("patient": {"age_years": 8},
    "refraction": {"right": {"sphere_d": 3}, "left": {"sphere_d": 3},
      "spectacles": {"right": {"sphere_d": 3}, "left": {"sphere_d": 3}}},
    "deviation": {"distance_pd": 1, "near_pd": 2, "ac_a_pd_per_d": 4},
    "expected": {"also_without": true})");
  std::vector<Act> acts = examine_presbyope(Near::bare);
  CHECK(share(score(p, acts), Item::a2) == 0.5);
  Tick t = acts.back().at_ms + 1000;
  acts.push_back({t, act::Spectacles{false}});
  acts.push_back(show(t, 6.0));
  for (const Eye eye : kBothEyes) {
    acts.push_back(cover(t += 3000, eye));
    acts.push_back(uncover(t += 3000));
  }
  CHECK(share(score(p, acts), Item::a2) == 1.0);
}

namespace {

ScoreSheet score_plan(const std::string& expected, const Finding& plan) {
  const Patient p = make_patient(R"("patient": {"age_years": 30,
      "answers": {"onset": "Today.", "double_vision": "Yes."}},
    "deviation": {"distance_pd": -6, "near_pd": -9}, "expected": {)" +
                                 expected + "}");
  std::vector<Act> acts = examine_presbyope(Near::bare);
  acts.push_back(note(acts.back().at_ms + 500, plan));
  return score(p, acts);
}

Finding plan_of(std::vector<PlanPart> parts, const std::string& advice = "") {
  Finding f;
  f.test = FindingTest::plan;
  f.parts = std::move(parts);
  f.advice = advice;
  f.urgency = Urgency::urgent;
  return f;
}

}  // namespace

TEST_CASE("a plan is marked by its key parts", "[scoring]") {
  // Rubric G2: all key parts, half of them, none; unsafe or empty is nothing.
  const std::string wants = R"("plan": ["refer_neurology or refer_ophthalmology", "driving"],
    "harmful": ["exercises"], "urgency": "urgent")";
  const auto marked = [&](const Finding& plan) { return share(score_plan(wants, plan), Item::g2); };
  CHECK(marked(plan_of({PlanPart::refer_ophthalmology, PlanPart::driving})) == 1.0);
  CHECK(marked(plan_of({PlanPart::refer_neurology}, "Not to drive until it is single.")) == 1.0);
  CHECK(marked(plan_of({PlanPart::refer_neurology})) == 0.5);
  CHECK(marked(plan_of({PlanPart::monitor})) == 0.0);
  CHECK(marked(plan_of({})) == 0.0);
  CHECK(marked(plan_of({PlanPart::refer_neurology, PlanPart::driving, PlanPart::exercises})) ==
        0.0);
  // That nothing speaks against it is no advice to who must not.
  Finding drives = plan_of({PlanPart::refer_neurology});
  drives.driving = Driving::no_bar;
  CHECK(marked(drives) == 0.5);
  const ItemScore& half = item(score_plan(wants, plan_of({PlanPart::driving})), Item::g2);
  CHECK(half.why.find("Neurology") != std::string::npos);
}

TEST_CASE("a case that names no plan takes any with something in it", "[scoring]") {
  CHECK(share(score_plan(R"("urgency": "soon")", plan_of({PlanPart::monitor})), Item::g2) == 1.0);
  CHECK(share(score_plan(R"("urgency": "soon")", plan_of({}, "Anything.")), Item::g2) == 1.0);
  CHECK(share(score_plan(R"("urgency": "soon")", plan_of({})), Item::g2) == 0.0);
}
