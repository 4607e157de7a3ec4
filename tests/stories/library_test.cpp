// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Every case of scenarios/ examined and marked: the reference examiner finds what the case expects;
// an ordinary fault costs its own marks and no others, and mending it never lowers a score; doing
// nothing, guessing the commonest or acting at random earns next to nothing. In parts, so that they
// can run side by side. Noise and the patient's seed as in the case.
#include <cstdint>
#include <set>
#include <string>
#include <utility>
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
constexpr std::uint64_t kRandomSeeds = 4;  // of each patient: more than 200 in all

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

struct Done {
  std::vector<Act> acts;
  Chance chance;
  Tick until;
};

Done run_examiner(const Shipped& shipped, examiners::Kind kind, std::uint64_t seed,
                  examiners::Fault fault = examiners::Fault::none) {
  const Chance chance{shipped.content.seed, 1.0, true};
  Examination exam(shipped.setup, chance);
  examiners::Habits habits;
  habits.kind = kind;
  habits.fault = fault;
  habits.near_m = shipped.content.patient.near_working_distance.value;
  habits.age_years = shipped.content.patient.age_years;
  habits.owns_spectacles = shipped.content.spectacles.owned();
  habits.seed = seed;
  examiners::Examined examined = examiners::examine(exam, habits);
  return {std::move(examined.acts), chance, examined.until};
}

scoring::ScoreSheet examine(const Shipped& shipped, examiners::Kind kind, std::uint64_t seed = 1) {
  const Done done = run_examiner(shipped, kind, seed);
  return scoring::calc_score(shipped.content, shipped.setup, done.acts, done.chance, done.until,
                             shipped.truth);
}

/// Items below full marks.
std::set<std::string> find_lost(const scoring::ScoreSheet& sheet) {
  std::set<std::string> lost;
  for (const scoring::ItemScore& item : sheet.items) {
    if (item.grade == scoring::Grade::removed || item.marks >= item.max - 1e-9) continue;
    lost.insert(scoring::kRubric[static_cast<std::size_t>(item.item)].name);
  }
  return lost;
}

// Returns what was lost all the same.
std::set<std::string> check_reference(const Shipped& shipped) {
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
  return find_lost(sheet);
}

void check_mending(const Shipped& shipped, const Done& done, const scoring::AsDone& seen) {
  const scoring::WhatIf what_if = scoring::price_habits(
      shipped.content, shipped.setup, done.acts, done.chance, done.until, shipped.truth, seen);
  for (const scoring::Price& each : what_if.prices) {
    INFO(each.mended.done << ", from " << what_if.total << " to " << each.total);
    CHECK(each.marks >= -0.05);
  }
  if (what_if.all_mended) CHECK(*what_if.all_mended >= what_if.total - 0.05);
}

/// A fault, what it has to cost, and what may hang on that in one patient or another.
struct Ordinary {
  examiners::Fault fault;
  std::set<std::string> costs;
  std::set<std::string> may_cost;
};

// What a fault takes from the reference examiner. A first prism the wrong way round costs nothing
// where none is needed; who never looks at near neither measures nor names what is there alone.
const std::vector<Ordinary>& ordinary_faults() {
  using examiners::Fault;
  static const std::vector<Ordinary> faults{
      {Fault::short_covers, {"B2"}, {}},
      {Fault::wrong_base, {}, {"C2"}},
      {Fault::no_near_test,
       {"D1", "D2", "D3"},
       {"A3", "B1", "C2", "C3", "C4", "C5", "D4", "D5", "E", "G1", "G2", "G3"}}};
  return faults;
}

// Ordinary faults in turn: each costs its own marks, and whatever is mended they do not go down.
void check_faults(const Shipped& shipped, std::size_t index,
                  const std::set<std::string>& lost_anyway) {
  const Ordinary& ordinary = ordinary_faults()[index % ordinary_faults().size()];
  const Done done = run_examiner(shipped, examiners::Kind::reference, 1, ordinary.fault);
  const scoring::AsDone seen =
      scoring::simulate_as_done(shipped.setup, done.acts, done.chance, done.until);
  const std::set<std::string> lost =
      find_lost(scoring::calc_score(shipped.content, shipped.setup, seen.evidence, shipped.truth));
  for (const std::string& item : ordinary.costs) CHECK(lost.count(item) == 1);
  for (const std::string& item : lost) {
    INFO("lost " << item << " to fault " << static_cast<int>(ordinary.fault));
    CHECK(ordinary.costs.count(item) + ordinary.may_cost.count(item) + lost_anyway.count(item) > 0);
  }
  check_mending(shipped, done, seen);
}

// A letter that the worse eye cannot make out costs its item and, where nothing is seen of that eye
// then, what it would have shown: priced alone.
void check_small_letter(const Shipped& shipped) {
  const Done done =
      run_examiner(shipped, examiners::Kind::reference, 1, examiners::Fault::letter_too_small);
  check_mending(shipped, done,
                scoring::simulate_as_done(shipped.setup, done.acts, done.chance, done.until));
}

void check_part(std::size_t part) {
  const std::vector<std::string>& names = testing::shipped_case_names();
  double random_sum = 0.0;
  int count = 0;
  for (std::size_t i = part; i < names.size(); i += kParts) {
    INFO(names[i]);
    const Shipped shipped = load(names[i]);
    const std::set<std::string> lost_anyway = check_reference(shipped);
    // Every fourth patient is shown letters that are too small, the others have the rest in turn.
    if (i % 4 == 3) {
      check_small_letter(shipped);
    } else {
      check_faults(shipped, i / 4 + i % 4, lost_anyway);
    }
    CHECK(examine(shipped, examiners::Kind::idle).total < 10.0);
    CHECK(examine(shipped, examiners::Kind::guessing).total < 30.0);
    for (std::uint64_t seed = 1; seed <= kRandomSeeds; ++seed) {
      random_sum += examine(shipped, examiners::Kind::random, kRandomSeeds * i + seed).total;
      ++count;
    }
  }
  REQUIRE(count >= 20);
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
