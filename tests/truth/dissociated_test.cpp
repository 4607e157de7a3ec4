// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// What stands when the eyes are apart: the beat of a nystagmus is no deviation, an eye that sees no
// form fixes nothing, and a palsy spreads over the fields of gaze with time.
#include <algorithm>
#include <cmath>
#include <string>

#include <catch2/catch.hpp>

#include "sim/cases/case_file.hpp"
#include "sim/cases/setup.hpp"
#include "sim/truth/truth.hpp"

using namespace redress;

namespace {

truth::Truth find_truth(const std::string& more, bool gaze = false) {
  const auto read = read_case_text(
      R"({"format": "redress-case", "version": 1, "title": "dissociated")" + more + "}");
  REQUIRE(read.ok());
  return truth::calc_truth(setup_of(read.value()), {}, {gaze, false, false});
}

constexpr const char* kExo = R"(, "deviation": {"distance_pd": -8, "near_pd": -10})";

}  // namespace

TEST_CASE("the prism that neutralises is that of the same patient without the nystagmus") {
  const truth::Truth still = find_truth(kExo);
  for (const char* beat : {R"("infantile_nystagmus": {"amplitude_deg": 5, "null_deg": -20})",
                           R"("infantile_nystagmus": {"amplitude_deg": 5, "null_deg": 20})",
                           R"("latent_nystagmus_deg": 5)"}) {
    const truth::Truth beats = find_truth(std::string(kExo) + R"(, "instability": {)" + beat + "}");
    REQUIRE(beats.conditions.size() == still.conditions.size());
    for (std::size_t i = 0; i < still.conditions.size(); ++i) {
      INFO(beat << " at " << still.conditions[i].distance_m);
      REQUIRE(beats.conditions[i].neutralising_horizontal_pd);
      CHECK(*beats.conditions[i].neutralising_horizontal_pd ==
            Approx(*still.conditions[i].neutralising_horizontal_pd).margin(0.1));
    }
  }
}

TEST_CASE("an eye that sees no form fixes nothing, and no deviation is told of it fixing") {
  const truth::Truth found = find_truth(R"(, "deviation": {"distance_pd": -15, "near_pd": -15},
                     "refraction": {"left": {"acuity_logmar": 3.0}})");
  for (const truth::Condition& c : found.conditions) {
    INFO(c.distance_m);
    CHECK(c.cannot_fixate == (c.fixing == Eye::left));
    CHECK(c.neutralising_horizontal_pd.has_value() == (c.fixing == Eye::right));
  }
}

// A right lateral rectus of half force, left eye fixing: the antagonist that overacts and shortens,
// then the yoke, carry the deviation into the other fields of gaze. Values of the prototype of the
// six muscles, left gaze, straight, right gaze; its own tolerance of a fifth, or 1.
TEST_CASE("spread of comitance: overaction and contracture carry a palsy into every gaze") {
  struct Stage {
    const char* muscles;
    double left, straight, right;
  };
  const Stage stages[] = {
      {R"("right": {"lateral_rectus": {"strength": 0.5}})", 3, 12, 28},
      {R"("right": {"lateral_rectus": {"strength": 0.5}, "medial_rectus": {"strength": 1.15}})", 10,
       14, 29},
      {R"("right": {"lateral_rectus": {"strength": 0.5},
                    "medial_rectus": {"strength": 1.1, "shorter_deg": 6}},
          "left": {"medial_rectus": {"strength": 1.1}})",
       9, 16, 33}};
  double least_spread = 1e9;
  for (const Stage& stage : stages) {
    const truth::Truth found =
        find_truth(std::string(R"(, "deviation": {"distance_pd": 0, "near_pd": 0}, "muscles": {)") +
                       stage.muscles + "}",
                   true);
    const auto at = [&](double horizontal) {
      for (const truth::Position& p : found.gaze) {
        if (p.fixing == Eye::left && p.horizontal_deg == horizontal && p.vertical_deg == 0.0) {
          return p.horizontal_pd;
        }
      }
      FAIL("no such gaze");
      return 0.0;
    };
    INFO(stage.muscles);
    const auto near = [](double value) { return Approx(value).margin(std::max(1.0, value / 5)); };
    CHECK(at(-25) == near(stage.left));
    CHECK(at(0) == near(stage.straight));
    CHECK(at(25) == near(stage.right));
    // How many times as much in its own field as in the other one.
    const double spread = at(25) / at(-25);
    CHECK(spread < least_spread + 0.7);
    least_spread = std::min(least_spread, spread);
  }
  CHECK(least_spread < 4.0);  // from about nine in the fresh palsy
}

TEST_CASE("an eye that takes up fixation nowhere makes no deviation incomitant") {
  const truth::Truth blind = find_truth(
      R"(, "deviation": {"distance_pd": -20, "near_pd": -20}, "fusion": {"present": false},
         "refraction": {"left": {"acuity_logmar": 2.6}})",
      true);
  CHECK(blind.comitant);
}

TEST_CASE("an eye that cannot reach the target does not hold fixation") {
  const truth::Truth third = find_truth(
      R"(, "deviation": {"distance_pd": 0, "near_pd": -2},
         "muscles": {"right": {"medial_rectus": {"strength": 0}, "superior_rectus": {"strength": 0},
                               "inferior_oblique": {"strength": 0}}})");
  for (const truth::Condition& c : third.conditions) {
    if (c.manifest == truth::Manifest::none) continue;
    CHECK(c.deviating_eye == truth::DeviatingEye::right);
  }
}

TEST_CASE("a spasm of the near reflex comes and goes: what is held without it is intermittent") {
  const truth::Truth spasm = find_truth(
      R"(, "deviation": {"distance_pd": 0, "near_pd": 1, "ac_a_pd_per_d": 5.5},
         "accommodation": {"spasm_d": 4.5})");
  const auto six = std::find_if(spasm.conditions.begin(), spasm.conditions.end(),
                                [](const auto& c) { return c.distance_m == 6.0; });
  REQUIRE(six != spasm.conditions.end());
  CHECK(six->horizontal_pd > 15.0);
  CHECK(six->manifest == truth::Manifest::intermittent);
}
