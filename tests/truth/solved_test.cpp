// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// What is solved against what is run, in shipped, drawn and paretic patients: deviations within
// 0.05 prism dioptres, what is manifest, reserves and control the same.
#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

#include <catch2/catch.hpp>

#include "sim/cases/setup.hpp"
#include "sim/program/generate.hpp"
#include "sim/truth/control_score.hpp"
#include "sim/truth/procedures.hpp"
#include "sim/truth/solved.hpp"
#include "tests/cases/case_texts.hpp"

using namespace redress;
using namespace redress::testing;
using nlohmann::json;
using namespace redress::truth;

namespace {

constexpr double kAgreePd = 0.05;
constexpr double kDistances[] = {20.0, 6.0, 1.0, 0.7, 0.4, 0.33};

struct Count {
  int solved = 0;
  int asked = 0;
};

ExaminationSetup setup_from(const json& value) {
  const Result<Case> read = parse_case(value);
  if (!read) FAIL(listed(read.problems()));
  return setup_of(read.value());
}

// Shipped patients of every kind, and what the generator draws.
const std::vector<std::pair<std::string, ExaminationSetup>>& patients() {
  static const auto kPatients = [] {
    std::vector<std::pair<std::string, ExaminationSetup>> all;
    for (const char* name :
         {"no_deviation", "exophoria", "right_esotropia", "skips_lines", "intermittent_exotropia",
          "microtropia", "short_sighted_reader", "rises_behind_the_cover"}) {
      all.emplace_back(name, setup_from(json::parse(shipped_case(name))));
    }
    for (const std::string_view diagnosis : program::generated_diagnoses()) {
      const auto cases = program::generate_cases(diagnosis, 0.5, 21, 3);
      REQUIRE(cases.ok());
      for (const json& one : cases.value()) {
        all.emplace_back(std::string(diagnosis), setup_from(one));
      }
    }
    return all;
  }();
  return kPatients;
}

void check_apart(const ExaminationSetup& setup, const Opening& opening, Count& count) {
  for (const Eye fixing : kBothEyes) {
    ++count.asked;
    const auto solved = solve_apart(setup, opening, fixing);
    if (!solved) continue;
    ++count.solved;
    const Apart run = run_apart(setup, opening, fixing);
    REQUIRE(run.reaches);
    INFO(name_of(fixing) << " fixing, " << opening.target.horizontal_deg << ", "
                         << opening.target.vertical_deg);
    CHECK(std::abs(solved->deviation.horizontal_pd - run.deviation.horizontal_pd) < kAgreePd);
    CHECK(std::abs(solved->deviation.vertical_pd - run.deviation.vertical_pd) < kAgreePd);
    CHECK(solved->lens == run.lens);
    CHECK(solved->spectacles == run.spectacles);
    REQUIRE(solved->label.has_value() == run.label.has_value());
    if (!run.label) continue;
    CHECK(std::abs(solved->label->horizontal.value - run.label->horizontal.value) < kAgreePd);
    CHECK(std::abs(solved->label->vertical.value - run.label->vertical.value) < kAgreePd);
  }
}

}  // namespace

TEST_CASE("deviations solved are those that running comes to", "[truth]") {
  Count count;
  for (const auto& [name, setup] : patients()) {
    INFO(name);
    for (const double distance_m : kDistances) {
      Opening opening;
      opening.target = plain_target(distance_m);
      check_apart(setup, opening, count);
    }
  }
  CHECK(count.solved > count.asked / 2);
}

TEST_CASE("rows of gaze of weak muscles solved are those that running comes to", "[truth]") {
  const std::vector<std::string> kMuscles{
      R"({"right": {"lateral_rectus": {"strength": 0.5}}})",
      R"({"left": {"superior_oblique": {"strength": 0}}, "tilt_gain": 1.6})",
      R"({"right": {"inferior_rectus": {"limit_deg": -8, "limit_stiffness": 12}}})",
      R"({"right": {"superior_oblique": {"limit_deg": 6}}})"};
  Count count;
  for (const std::string& muscles : kMuscles) {
    json value = least_case();
    value["muscles"] = json::parse(muscles);
    const ExaminationSetup setup = setup_from(value);
    INFO(muscles);
    for (const double vertical : {25.0, 0.0, -25.0}) {
      for (const double horizontal : {-25.0, 0.0, 25.0}) {
        Opening opening;
        opening.target = plain_target(6.0, horizontal, vertical);
        check_apart(setup, opening, count);
      }
    }
    Opening tilted;
    tilted.target = plain_target(6.0);
    tilted.head.roll = Degrees{30.0};
    check_apart(setup, tilted, count);
  }
  CHECK(count.solved > count.asked / 2);
}

TEST_CASE("what is manifest solved is what running comes to", "[truth]") {
  Count count;
  for (const auto& [name, setup] : patients()) {
    for (const double distance_m : {6.0, 0.4}) {
      Opening opening;
      opening.target = plain_target(distance_m);
      ++count.asked;
      const auto solved = solve_manifest(setup, opening);
      if (!solved) continue;
      ++count.solved;
      INFO(name << " at " << distance_m);
      const ManifestFinding run = run_manifest(setup, opening);
      CHECK(solved->manifest == run.manifest);
      CHECK(calc_manifest(setup, opening).deviating_eye == run.deviating_eye);
      CHECK(std::abs(solved->deviation.horizontal_pd - run.deviation.horizontal_pd) < kAgreePd);
      CHECK(std::abs(solved->deviation.vertical_pd - run.deviation.vertical_pd) < kAgreePd);
    }
  }
  CHECK(count.solved > count.asked / 3);
}

TEST_CASE("reserves solved are those that running comes to", "[truth]") {
  constexpr double kBar[] = {1, 2, 4, 6, 8, 10, 12, 14, 16, 18, 20, 25, 30, 35, 40, 45};
  int solved_count = 0;
  for (const auto& [name, setup] : patients()) {
    for (const double distance_m : {6.0, 0.4}) {
      if (!solve_reserve(setup, distance_m, 0.0, kBar, [](double, double) { return true; })) {
        continue;
      }
      ++solved_count;
      INFO(name << " at " << distance_m);
      const ReservesAt solved = calc_reserves(setup, distance_m);
      const ReservesAt run = run_reserves(setup, distance_m);
      const auto check = [](const ReserveReading& one, const ReserveReading& other) {
        CHECK(one.blur_pd == other.blur_pd);
        CHECK(one.break_pd == other.break_pd);
        CHECK(one.recovery_pd == other.recovery_pd);
      };
      check(solved.base_out, run.base_out);
      check(solved.base_in, run.base_in);
    }
  }
  CHECK(solved_count > 15);
}

TEST_CASE("control is the same for who is not watched because it cannot break down", "[truth]") {
  for (const auto& [name, setup] : patients()) {
    INFO(name);
    const ControlScore quick = calc_control_scores(setup);
    const ControlScore watched = run_control_scores(setup);
    CHECK(quick.distance == watched.distance);
    CHECK(quick.near == watched.near);
  }
}

TEST_CASE("a near point looked for from close by is that looked for from afar", "[truth]") {
  int compared = 0;
  for (const auto& [name, setup] : patients()) {
    const auto limit_m = solve_near_limit_m(setup, 0.40, 0.03);
    if (!limit_m) continue;
    ++compared;
    INFO(name << ", not held from " << *limit_m);
    const NearPoint quick = calc_near_point(setup);
    const NearPoint whole = run_near_point(setup, 0.40);
    REQUIRE(quick.break_cm.has_value() == whole.break_cm.has_value());
    REQUIRE(quick.recovery_cm.has_value() == whole.recovery_cm.has_value());
    if (whole.break_cm) CHECK(*quick.break_cm == Approx(*whole.break_cm).margin(0.05));
    if (whole.recovery_cm) CHECK(*quick.recovery_cm == Approx(*whole.recovery_cm).margin(0.05));
  }
  CHECK(compared > 5);
}
