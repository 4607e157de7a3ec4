// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// What stands beside the marks is judged by their measures: an entry that earned its marks is right
// there as well, and one that did not is not.
#include <catch2/catch.hpp>

#include <algorithm>
#include <string>
#include <utility>
#include <vector>

#include "sim/examiners/examine.hpp"
#include "sim/findings/evidence.hpp"
#include "sim/record/run.hpp"
#include "sim/scoring/judged.hpp"
#include "sim/scoring/score.hpp"
#include "tests/cases/case_texts.hpp"
#include "tests/scoring/scored_patient.hpp"

using namespace redress;
using namespace redress::scoring;
using namespace redress::tests;

namespace {

Finding near_point(double break_cm) {
  Finding f;
  f.test = FindingTest::near_point;
  f.break_value = break_cm;
  return f;
}

Finding estimate(double distance_m, double horizontal_pd) {
  Finding f;
  f.distance_m = distance_m;
  f.spectacles = false;
  f.kind = FindingKind::phoria;
  f.horizontal_pd = horizontal_pd;
  f.method = SizeMethod::estimated;
  return f;
}

/// Nothing done: whatever is written is compared with the patient as a rule.
Examined examined_with(const Patient& p, const std::vector<Finding>& written) {
  findings::Evidence evidence;
  for (const Finding& f : written) evidence.notes.push_back({1000, f});
  return Examined(p.the_case, p.setup, std::move(evidence), p.truth);
}

}  // namespace

// Patients of whom one holds her head askew, one wears glasses that carry prism, one has a spasm:
// what is there depends on how they were tested.
TEST_CASE("what earned full marks is right beside them, however it was tested", "[scoring]") {
  for (const std::string name : {"old_head_tilt", "exophoria", "right_esotropia", "microtropia",
                                 "comes_and_goes_within_a_minute", "turned_out_after_surgery"}) {
    INFO(name);
    const Case the_case = read_case_text(redress::testing::shipped_case(name)).value();
    const ExaminationSetup setup = setup_of(the_case);
    const truth::Truth truth = truth::calc_truth(setup, {}, {true, false, false});
    examiners::Habits habits;
    habits.near_m = the_case.patient.near_working_distance.value;
    habits.age_years = the_case.patient.age_years;
    habits.owns_spectacles = the_case.spectacles.owned();
    const Chance chance{the_case.seed, 1.0, true};
    Examination exam(setup, chance);
    const examiners::Examined done = examiners::examine(exam, habits);
    const Examined x(the_case, setup,
                     findings::gather_evidence(setup, done.acts, chance, done.until), truth);
    const ScoreSheet sheet = calc_score(x);
    for (const Item item : {Item::d1, Item::d2, Item::d3, Item::d4}) {
      const Grade grade = sheet.items[static_cast<std::size_t>(item)].grade;
      if (grade != Grade::removed) REQUIRE(grade == Grade::full);
    }
    int judged = 0;
    for (const Place& place : x.places) {
      const findings::WrittenFinding* read =
          place.prism_entry != nullptr ? place.prism_entry : place.cover_entry;
      for (const findings::WrittenFinding* entry : {place.cover_entry, read}) {
        if (entry == nullptr) continue;
        INFO(place.name << ", " << entry->finding.horizontal_pd.value_or(0.0));
        CHECK(judge_deviation(x, *entry).share == 1.0);
        ++judged;
      }
    }
    CHECK(judged >= 2);
  }
}

// Tolerances: practice, A7 for estimates (3 or 40 %), B3 for the near point (2 cm or 25 %).
TEST_CASE("what is not right within the tolerance of the marks is not right beside them",
          "[scoring]") {
  const Patient p =
      make_patient(R"("deviation": {"distance_pd": -10, "near_pd": -10})", {false, false, true});
  const Examined x = examined_with(p, {estimate(6.0, -13.9), near_point(4.0)});
  const auto share = [&x](const Finding& f) {
    return judge_deviation(x, findings::WrittenFinding{0, f}).share;
  };
  CHECK(share(estimate(6.0, -10)) == 1.0);
  CHECK(share(estimate(6.0, -13.9)) == 1.0);
  CHECK(share(estimate(6.0, -17.5)) == 0.5);
  CHECK(share(estimate(6.0, -18.5)) == 0.0);
  CHECK(share(estimate(6.0, 10)) == 0.0);  // the wrong way
  Finding tropia = estimate(6.0, -10);
  tropia.kind = FindingKind::tropia;
  CHECK(share(tropia) == 0.0);
  // At a distance that nothing calls for what is there is computed there.
  CHECK(judge_deviation(x, {0, estimate(1.0, -10)}).there.distance_m == 1.0);

  REQUIRE(p.truth.near_point_break_cm);
  const double there = *p.truth.near_point_break_cm;
  const double room = std::max(2.0, 0.25 * there);
  CHECK(judge_test(x, near_point(there + room - 0.1)) == 1.0);
  CHECK(judge_test(x, near_point(there + room + 0.1)) == 0.0);
  CHECK(judge_test(x, near_point(there)) == 1.0);
  Finding without_value = near_point(5);
  without_value.break_value.reset();
  CHECK_FALSE(judge_test(x, without_value));
}

TEST_CASE("a recovery is right as a rule or as it was today", "[scoring]") {
  const Patient p = make_patient(R"("deviation": {"distance_pd": -6, "near_pd": -6})");
  const Examined x = examined_with(p, {estimate(6.0, -6)});
  const JudgedRecovery as_rule = judge_recovery(x, x.places[0], RecoveryGrade::rapid);
  CHECK_FALSE(as_rule.today);  // nothing was covered
  CHECK(judge_recovery(x, x.places[0], as_rule.rule).share == 1.0);
  const auto far_off =
      as_rule.rule == RecoveryGrade::none ? RecoveryGrade::rapid : RecoveryGrade::none;
  CHECK(judge_recovery(x, x.places[0], far_off).share <= 0.5);
}
