// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Every case of scenarios/ examined once and marked: the reference examiner finds what the case
// expects, doing nothing, guessing or acting at random earns next to nothing, and mending a fault
// never lowers a score. In parts, so that they can run side by side. Noise and seed as in the case.
#include <algorithm>
#include <iterator>
#include <string>
#include <vector>

#include <catch2/catch.hpp>

#include "sim/cases/case_file.hpp"
#include "sim/cases/setup.hpp"
#include "sim/examiners/examine.hpp"
#include "sim/scoring/score.hpp"
#include "sim/scoring/what_if.hpp"
#include "tests/cases/case_texts.hpp"

using namespace redress;

namespace {

constexpr std::size_t kParts = 8;

struct Shipped {
  Case content;
  ExaminationSetup setup;
  truth::Truth truth;
};

Shipped load(const std::string& name) {
  const Result<Case> read = read_case_text(testing::shipped_case(name));
  REQUIRE(read.ok());
  const ExaminationSetup setup = setup_of(read.value());
  const CasePatient& p = read.value().patient;
  return {read.value(), setup,
          truth::calc_truth(setup, {p.screen_distance.value, p.near_working_distance.value})};
}

scoring::ScoreSheet examine(const Shipped& shipped, examiners::Kind kind) {
  const Chance chance{shipped.content.seed, 1.0, true};
  Examination exam(shipped.setup, chance);
  examiners::Habits habits;
  habits.kind = kind;
  habits.near_m = shipped.content.patient.near_working_distance.value;
  habits.age_years = shipped.content.patient.age_years;
  habits.owns_spectacles = shipped.content.spectacles.owned();
  habits.seed = shipped.content.seed;
  const examiners::Examined examined = examiners::examine(exam, habits);
  return scoring::calc_score(shipped.content, shipped.setup, examined.acts, chance, examined.until,
                             shipped.truth);
}

void check_reference(const Shipped& shipped) {
  const scoring::ScoreSheet sheet = examine(shipped, examiners::Kind::reference);
  CHECK(sheet.total >= 98.0);
  CHECK_FALSE(sheet.unsafe);
  using scoring::Item;
  // What the case expects: class, direction, impression, urgency.
  for (const Item item : {Item::d1, Item::d2, Item::g1, Item::g3}) {
    const auto i = static_cast<std::size_t>(item);
    INFO(scoring::kRubric[i].title << ": " << sheet.items[i].why);
    CHECK(sheet.items[i].grade == scoring::Grade::full);
  }
}

// Ordinary faults in turn: whatever is mended, the marks do not go down.
void check_mending(const Shipped& shipped, std::size_t index) {
  constexpr examiners::Fault kFaults[] = {examiners::Fault::short_covers,
                                          examiners::Fault::letter_too_small,
                                          examiners::Fault::no_near_test};
  const Chance chance{shipped.content.seed, 1.0, true};
  Examination exam(shipped.setup, chance);
  examiners::Habits habits;
  habits.fault = kFaults[index % std::size(kFaults)];
  habits.near_m = shipped.content.patient.near_working_distance.value;
  habits.age_years = shipped.content.patient.age_years;
  habits.owns_spectacles = shipped.content.spectacles.owned();
  const examiners::Examined examined = examiners::examine(exam, habits);
  const scoring::WhatIf what_if = scoring::price_habits(
      shipped.content, shipped.setup, examined.acts, chance, examined.until, shipped.truth);
  for (const scoring::Price& each : what_if.prices) {
    INFO(each.mended.done << ", from " << what_if.total << " to " << each.total);
    CHECK(each.marks >= -0.05);
  }
  if (what_if.all_mended) CHECK(*what_if.all_mended >= what_if.total - 0.05);
}

void check_part(std::size_t part) {
  const std::vector<std::string>& names = testing::shipped_case_names();
  double random_sum = 0.0;
  int count = 0;
  for (std::size_t i = part; i < names.size(); i += kParts) {
    INFO(names[i]);
    const Shipped shipped = load(names[i]);
    check_reference(shipped);
    check_mending(shipped, i);
    CHECK(examine(shipped, examiners::Kind::idle).total < 10.0);
    CHECK(examine(shipped, examiners::Kind::guessing).total < 30.0);
    random_sum += examine(shipped, examiners::Kind::random).total;
    ++count;
  }
  REQUIRE(count >= 5);
  CHECK(random_sum / count < 15.0);
}

}  // namespace

TEST_CASE("the library examined and marked, part 1 of 8", "[library]") { check_part(0); }
TEST_CASE("the library examined and marked, part 2 of 8", "[library]") { check_part(1); }
TEST_CASE("the library examined and marked, part 3 of 8", "[library]") { check_part(2); }
TEST_CASE("the library examined and marked, part 4 of 8", "[library]") { check_part(3); }
TEST_CASE("the library examined and marked, part 5 of 8", "[library]") { check_part(4); }
TEST_CASE("the library examined and marked, part 6 of 8", "[library]") { check_part(5); }
TEST_CASE("the library examined and marked, part 7 of 8", "[library]") { check_part(6); }
TEST_CASE("the library examined and marked, part 8 of 8", "[library]") { check_part(7); }
