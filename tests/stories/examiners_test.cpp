// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Whole examinations of the shipped cases, marked: the reference examiner finds what is there, and
// nobody earns marks without work. Noise as in the case.
#include <algorithm>
#include <cmath>
#include <string>

#include <catch2/catch.hpp>

#include "sim/basics/file.hpp"
#include "sim/cases/case_file.hpp"
#include "sim/cases/setup.hpp"
#include "sim/examiners/examine.hpp"
#include "sim/scoring/score.hpp"
#include "tests/support/places.hpp"

using namespace redress;

namespace {

const char* const kShipped[] = {"no_deviation",    "exophoria",
                                "right_esotropia", "intermittent_exotropia",
                                "microtropia",     "near_esophoria_high_ac_a"};

struct Shipped {
  Case content;
  ExaminationSetup setup;
  truth::Truth truth;
};

Shipped load(const std::string& name) {
  const auto text = read_file(support::scenario_path(name));
  REQUIRE(text.ok());
  const Result<Case> read = read_case_text(text.value());
  REQUIRE(read.ok());
  const ExaminationSetup setup = setup_of(read.value());
  const CasePatient& p = read.value().patient;
  return {read.value(), setup,
          truth::calc_truth(setup, {p.screen_distance.value, p.near_working_distance.value})};
}

struct Outcome {
  examiners::Examined examined;
  scoring::ScoreSheet sheet;
};

Outcome examine(const Shipped& shipped, examiners::Kind kind, std::uint64_t seed,
                examiners::Fault fault = examiners::Fault::none) {
  const Chance chance{seed, 1.0, true};
  Examination exam(shipped.setup, chance);
  examiners::Habits habits;
  habits.kind = kind;
  habits.fault = fault;
  habits.near_m = shipped.content.patient.near_working_distance.value;
  habits.owns_spectacles = shipped.content.spectacles.owned();
  habits.seed = seed;
  Outcome o{examiners::examine(exam, habits), {}};
  o.sheet = scoring::calc_score(shipped.content, shipped.setup, o.examined.acts, chance,
                                o.examined.until, shipped.truth);
  return o;
}

// The steps of a horizontal bar (common practice, no source).
double bar_step_at(double label) {
  const double steps[] = {1, 2, 4, 6, 8, 10, 12, 14, 16, 18, 20, 25, 30, 35, 40, 45};
  double before = 0;
  for (const double s : steps) {
    if (s >= std::abs(label)) return s - before;
    before = s;
  }
  return 5;
}

void check_readings(const Shipped& shipped, const Outcome& o) {
  int readings = 0;
  for (const Act& a : o.examined.acts) {
    const auto* note = std::get_if<act::Note>(&a.content);
    if (note == nullptr || note->finding.test != FindingTest::prism_cover) continue;
    if (!note->finding.horizontal_pd || !note->finding.distance_m) continue;
    // Behind unequal spectacles the label depends on the eye that fixes, and in the alternating
    // cover either does: the reading belongs between the two.
    double low = 0.0;
    double high = 0.0;
    for (const Eye fixing : kBothEyes) {
      const truth::Condition there = truth::calc_condition(
          shipped.setup, *note->finding.distance_m, shipped.setup.room.spectacles_worn, fixing);
      REQUIRE(there.neutralising_horizontal_pd);
      const double label = *there.neutralising_horizontal_pd;
      low = fixing == Eye::right ? label : std::min(low, label);
      high = fixing == Eye::right ? label : std::max(high, label);
    }
    const double read = *note->finding.horizontal_pd;
    INFO("at " << *note->finding.distance_m << " m, label " << low << " to " << high << ", read "
               << read);
    const double label = std::clamp(read, low, high);
    const double allowed = std::abs(label) <= 10.0 ? 1.0 : bar_step_at(label);
    CHECK(std::abs(read - label) <= allowed);
    ++readings;
  }
  CHECK(readings >= 1);
}

}  // namespace

TEST_CASE("the reference examiner measures and is marked as it should be", "[slow]") {
  for (const char* name : kShipped) {
    const Shipped shipped = load(name);
    for (std::uint64_t seed = 1; seed <= 20; ++seed) {
      INFO(name << ", seed " << seed);
      const Outcome o = examine(shipped, examiners::Kind::reference, seed);
      CHECK(o.sheet.total >= 95.0);
      CHECK_FALSE(o.sheet.unsafe);
      check_readings(shipped, o);
    }
  }
}

TEST_CASE("doing nothing, and guessing the commonest finding, earn nothing") {
  for (const char* name : kShipped) {
    const Shipped shipped = load(name);
    INFO(name);
    CHECK(examine(shipped, examiners::Kind::idle, 1).sheet.total < 10.0);
    CHECK(examine(shipped, examiners::Kind::guessing, 1).sheet.total < 30.0);
  }
}
