// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The table that a step reads against the cold solution.
#include <algorithm>
#include <cmath>
#include <iostream>
#include <random>

#include <catch2/catch.hpp>

#include "sim/patient/plant_table.hpp"

using namespace redress;
using namespace redress::patient;

namespace {

struct Example {
  const char* name;
  EyeMuscles muscles;
};

MuscleCondition with_strength(double strength) { return {.strength = strength}; }
MuscleCondition with_limit(double limit, double stiffness) {
  return {.limit_deg = limit, .limit_stiffness = stiffness};
}

std::vector<Example> examples() {
  std::vector<Example> all(8);
  all[0].name = "lateral rectus 0";
  all[0].muscles.muscle[kLateralRectus] = with_strength(0);
  all[1].name = "superior oblique 0";
  all[1].muscles.muscle[kSuperiorOblique] = with_strength(0);
  all[2].name = "superior rectus 0, inferior rectus 0.4";
  all[2].muscles.muscle[kSuperiorRectus] = with_strength(0);
  all[2].muscles.muscle[kInferiorRectus] = with_strength(0.4);
  all[3].name = "superior oblique stopped at 6";
  all[3].muscles.muscle[kSuperiorOblique] = with_limit(6, 20);
  all[4].name = "inferior rectus stopped at -14";
  all[4].muscles.muscle[kInferiorRectus] = with_limit(-14, 12);
  all[5].name = "lateral rectus 0.3, co-innervated, tight; medial rectus stopped at 5";
  all[5].muscles.muscle[kLateralRectus] = {.strength = 0.3, .shorter_deg = 20, .stiffness = 2};
  all[5].muscles.muscle[kMedialRectus] = with_limit(5, 20);
  all[5].muscles.share_of_medial = 0.1;
  all[6].name = "medial rectus, version gain 0.4";
  all[6].muscles.version_gain = 0.4;
  all[7].name = "overacting inferior oblique 1.6, superior oblique 0";
  all[7].muscles.muscle[kSuperiorOblique] = with_strength(0);
  all[7].muscles.muscle[kInferiorOblique] = with_strength(1.6);
  return all;
}

}  // namespace

TEST_CASE("the table agrees with the cold equilibrium within 0.05 degrees", "[muscles]") {
  const Plant plant;
  std::mt19937 dice(7);
  std::uniform_real_distribution<double> reach(-1.0, 1.0);
  for (const Example& example : examples()) {
    const PlantTable table(plant, example.muscles, 12.0);
    CHECK_FALSE(table.restless_at());
    double worst = 0.0;
    double worst_pull = 0.0;
    for (int i = 0; i < 4000; ++i) {
      const double vergence = example.muscles.version_gain == 1.0 ? 0.0 : 17.5 * reach(dice) - 7.5;
      const Direction3 command{50.0 * reach(dice), 50.0 * reach(dice), 12.0 * reach(dice)};
      const auto cold = plant.calc_departure(example.muscles, command, vergence);
      REQUIRE(cold);
      const TableValue read = table.at(command, vergence);
      worst = std::max({worst, std::abs(read[0] - cold->turn.horizontal),
                        std::abs(read[1] - cold->turn.vertical),
                        std::abs(read[2] - cold->turn.torsion)});
      worst_pull = std::max(worst_pull, std::abs(read[3] - cold->pull));
    }
    std::cout << "table: " << example.name << ": worst " << worst << " degrees, pull " << worst_pull
              << '\n';
    CHECK(worst < 0.05);
    CHECK(worst_pull < 0.02);
  }
}

TEST_CASE("the table gives its nodes exactly and holds still beyond its reach", "[muscles]") {
  const Plant plant;
  EyeMuscles muscles;
  muscles.muscle[kLateralRectus].strength = 0.3;
  const PlantTable table(plant, muscles, 12.0);
  const auto cold = plant.calc_departure(muscles, {20.0, -10.0, 2.5});
  REQUIRE(cold);
  CHECK(table.at({20.0, -10.0, 2.5}, 0.0)[0] == Approx(cold->turn.horizontal).margin(1e-7));
  CHECK(table.at({80.0, 70.0, 40.0}, 0.0) == table.at({50.0, 50.0, 12.0}, 0.0));
  CHECK(table.at({-80.0, -70.0, -40.0}, 0.0) == table.at({-50.0, -50.0, -12.0}, 0.0));
}

TEST_CASE("muscles that find no rest are noticed", "[muscles]") {
  // Every muscle stopped far short of where it is at rest, and hard: they tear at each other.
  const Plant plant;
  EyeMuscles muscles;
  for (MuscleCondition& m : muscles.muscle) {
    m.strength = 3.0;
    m.limit_deg = -60.0;
    m.limit_stiffness = 100.0;
    m.shorter_deg = 40.0;
    m.stiffness = 10.0;
  }
  CHECK(PlantTable(plant, muscles, 12.0).restless_at());
}

TEST_CASE("nodes solved when they are read are those of the whole table", "[muscles]") {
  const Plant plant;
  std::mt19937 dice(11);
  std::uniform_real_distribution<double> reach(-1.0, 1.0);
  for (const Example& example : examples()) {
    INFO(example.name);
    const PlantTable whole(plant, example.muscles, 12.0);
    const PlantTable read(plant, example.muscles, 12.0, NodesSolved::when_read);
    CHECK(read.nodes() == whole.nodes());
    CHECK(read.nodes_solved() == 0);
    double worst = 0.0;
    for (int i = 0; i < 300; ++i) {
      const double vergence = example.muscles.version_gain == 1.0 ? 0.0 : 17.5 * reach(dice) - 7.5;
      const Direction3 command{50.0 * reach(dice), 50.0 * reach(dice), 12.0 * reach(dice)};
      const TableValue one = whole.at(command, vergence);
      const TableValue other = read.at(command, vergence);
      for (std::size_t k = 0; k < 4; ++k) worst = std::max(worst, std::abs(one[k] - other[k]));
    }
    // Newton's method stops at a step of 1e-8 degrees; a millionth of a degree is 2e-6 prism
    // dioptres.
    CHECK(worst < 1e-6);
    CHECK(read.nodes_solved() > 0);
    CHECK(read.nodes_solved() < whole.nodes());
    // A copy has what was read before it was made, and after.
    const PlantTable copy = read;
    const std::size_t solved = read.nodes_solved();
    CHECK(copy.at({3.0, 2.0, 1.0}, 0.0) == read.at({3.0, 2.0, 1.0}, 0.0));
    CHECK(copy.nodes_solved() == read.nodes_solved());
    CHECK(read.nodes_solved() >= solved);
  }
}
