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

namespace {

// Nine gazes and two tilts with the left eye fixing; `pd(x, y)`: x, y -1, 0 or 1, right and up.
template <class Horizontal, class Vertical>
void add_gazes(Horizontal horizontal, Vertical vertical, double tilt_right, double tilt_left,
               Truth& truth) {
  truth.comitant = false;
  for (const int y : {1, 0, -1}) {
    for (const int x : {-1, 0, 1}) {
      Position p;
      p.fixing = Eye::left;
      p.horizontal_deg = 25.0 * x;
      p.vertical_deg = 25.0 * y;
      p.horizontal_pd = horizontal(x, y);
      p.vertical_pd = vertical(x, y);
      truth.gaze.push_back(p);
      p.fixing = Eye::right;
      p.cannot_fixate = x > 0;
      truth.gaze.push_back(p);
    }
  }
  for (const double roll : {30.0, -30.0}) {
    Position p;
    p.fixing = Eye::left;
    p.roll_deg = roll;
    p.vertical_pd = roll > 0 ? tilt_right : tilt_left;
    truth.head_tilt.push_back(p);
  }
}

}  // namespace

TEST_CASE("an incomitant deviation is named by the gazes in which it grows", "[naming]") {
  const auto none = [](int, int) { return 0.0; };
  // Parks 1958: right hyper, more in left gaze and with the head to the right.
  Truth superior_oblique = latent(0, 0, 9);
  add_gazes(
      none, [](int x, int y) { return 9.0 - 6.0 * x - 4.0 * y; }, 13, 5, superior_oblique);
  CHECK(calc_diagnosis(superior_oblique) ==
        "right hyperphoria, as from a weak right superior oblique");
  // The same gaze with the other tilt: an elevator of the lower eye in its own field.
  Truth other_tilt = latent(0, 0, 9);
  add_gazes(
      none, [](int x, int y) { return 9.0 - 6.0 * x - 4.0 * y; }, 5, 13, other_tilt);
  CHECK(calc_diagnosis(other_tilt) == "right hyperphoria, as from a weak left superior rectus");

  Truth abducens = latent(18, 8);
  add_gazes([](int x, int) { return 20.0 + 14.0 * x; }, none, 0, 0, abducens);
  CHECK(calc_diagnosis(abducens).find(", as from a weak right lateral rectus") !=
        std::string::npos);
  Truth medial = latent(-4, -4);
  add_gazes([](int x, int) { return -8.0 + 8.0 * x; }, none, 0, 0, medial);
  CHECK(calc_diagnosis(medial).find(", as from a weak right medial rectus") != std::string::npos);

  // An eye that does not rise when turned in: nothing straight ahead, no difference on tilting.
  Truth sheath = latent(0, 0);
  add_gazes(
      none, [](int x, int y) { return y > 0 ? -10.0 + 10.0 * x : 0.0; }, 0, 0, sheath);
  CHECK(calc_diagnosis(sheath) == "no deviation straight ahead, largest in up and left gaze");

  Truth comitant = latent(-6, -8);
  add_gazes([](int, int) { return -6.0; }, none, 0, 0, comitant);
  comitant.comitant = true;
  CHECK(calc_diagnosis(comitant).find("weak") == std::string::npos);
}
