// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The names of vergence anomalies by published criteria: Scheiman & Wick (Clinical Management of
// Binocular Vision, 2014) as tabled in open articles, and the eligibility of the Convergence
// Insufficiency Treatment Trial (CITT).
#include <catch2/catch.hpp>

#include <string>
#include <utility>

#include "sim/truth/truth.hpp"

using namespace redress;
using namespace redress::truth;

namespace {

Truth latent(double far_pd, double near_pd, double vertical_pd = 0.0) {
  Truth truth;
  for (const auto& [metres, pd] : {std::pair{6.0, far_pd}, std::pair{0.40, near_pd}}) {
    Condition c;
    c.distance_m = metres;
    c.horizontal_pd = pd;
    c.vertical_pd = vertical_pd;
    truth.conditions.push_back(c);
  }
  truth.ac_a_gradient_pd_per_d = 4.0;
  return truth;
}

ReservesAt reserves(double metres, double base_out_pd, double base_in_pd) {
  ReservesAt r;
  r.distance_m = metres;
  r.base_out.break_pd = base_out_pd;
  r.base_in.break_pd = base_in_pd;
  return r;
}

}  // namespace

TEST_CASE("Morgan's means are no abnormal deviation") {
  // Morgan 1944: 1 exo at distance, 3 exo at near.
  CHECK(calc_diagnosis(latent(-1, -3)) == "no abnormal deviation found");
  CHECK(calc_diagnosis(latent(0, 0)) == "no abnormal deviation found");
}

TEST_CASE("an exophoria much greater at near is an insufficiency only with one of its signs") {
  Truth truth = latent(-1, -9);
  CHECK(calc_diagnosis(truth) == "exophoria at near");
  truth.near_point_break_cm = 5.0;
  truth.reserves = {reserves(0.40, 30, 20)};
  CHECK(calc_diagnosis(truth) == "exophoria at near");
  truth.near_point_break_cm = 6.0;  // CITT: 6 cm or more
  CHECK(calc_diagnosis(truth) == "exophoria at near (convergence insufficiency)");
  truth.near_point_break_cm = 5.0;
  truth.reserves = {reserves(0.40, 15, 20)};  // CITT: base out breaks by 15
  CHECK(calc_diagnosis(truth) == "exophoria at near (convergence insufficiency)");
  truth.reserves = {reserves(0.40, 17, 20)};  // Sheard: less than twice 9
  CHECK(calc_diagnosis(truth) == "exophoria at near (convergence insufficiency)");
  CHECK(calc_diagnosis(latent(-4, -12)) == "exophoria greater at near");
}

TEST_CASE("the four that differ between distance and near, and the two that do not") {
  Truth excess = latent(1, 8);
  CHECK(calc_diagnosis(excess) == "near esophoria (convergence excess)");
  excess.ac_a_gradient_pd_per_d = 7.0;
  CHECK(calc_diagnosis(excess) == "near esophoria with a high AC/A ratio (convergence excess)");
  Truth weak = latent(8, 1);
  CHECK(calc_diagnosis(weak) == "esophoria at distance");
  weak = latent(8, 3);
  CHECK(calc_diagnosis(weak) == "esophoria greater at distance");
  weak.reserves = {reserves(6.0, 20, 5)};  // base in at distance breaks before 7
  CHECK(calc_diagnosis(weak) == "esophoria greater at distance (divergence insufficiency)");
  CHECK(calc_diagnosis(latent(-12, -5)) == "exophoria greater at distance (divergence excess)");
  CHECK(calc_diagnosis(latent(-7, -9)) == "exophoria");
  CHECK(calc_diagnosis(latent(7, 8)) == "esophoria");
}

TEST_CASE("a vertical phoria is named beside the horizontal one, the larger first") {
  CHECK(calc_diagnosis(latent(-1, -2, 2)) == "right hyperphoria");
  CHECK(calc_diagnosis(latent(-1, -2, -2)) == "left hyperphoria");
  CHECK(calc_diagnosis(latent(-7, -9, 3)) == "exophoria with right hyperphoria");
  CHECK(calc_diagnosis(latent(3, 4, -6)) == "left hyperphoria with esophoria");
}

TEST_CASE("a squint that differs by ten between distance and near says so") {
  // Burian's types, from memory.
  Truth truth = latent(-30, -14);
  for (Condition& c : truth.conditions) {
    c.manifest = Manifest::intermittent;
    c.deviating_eye = DeviatingEye::left;
    c.manifest_horizontal_pd = c.horizontal_pd;
  }
  CHECK(calc_diagnosis(truth) == "intermittent left exotropia, greater at distance");
  truth.conditions.back().horizontal_pd = -25;
  CHECK(calc_diagnosis(truth) == "intermittent left exotropia");
  truth.conditions.back().horizontal_pd = -41;
  CHECK(calc_diagnosis(truth) == "intermittent left exotropia, greater at near");
}
