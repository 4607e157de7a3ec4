// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Tables of muscles taken from an earlier setup are those that would be made.
#include <cmath>
#include <string>

#include <catch2/catch.hpp>

#include "sim/cases/made_muscles.hpp"
#include "sim/program/spread.hpp"
#include "sim/truth/truth_parts.hpp"
#include "tests/cases/case_texts.hpp"

using namespace redress;
using namespace redress::testing;

namespace {

Case read(const std::string& name) { return read_case_text(shipped_case(name)).value(); }

// Where the two differ is no table of the other.
bool are_alike(const std::optional<patient::EyePlant>& a,
               const std::optional<patient::EyePlant>& b) {
  if (!a || !b) return a.has_value() == b.has_value();
  bool alike = a->muscles == b->muscles && a->whole.nodes() == b->whole.nodes();
  for (const double h : {-30.0, 0.0, 17.0}) {
    for (const double v : {-20.0, 0.0, 12.0}) {
      alike = alike && a->whole.at({h, v, 1.0}, 0.0) == b->whole.at({h, v, 1.0}, 0.0);
    }
  }
  return alike;
}

}  // namespace

TEST_CASE("an earlier setup's muscles are taken where they are the same", "[cases]") {
  Case the_case = read("sinks_while_you_measure");  // weak and tiring, of one eye
  const ExaminationSetup first = setup_of(the_case);
  the_case.deviation.distance = PrismDioptres{-7};
  const ExaminationSetup taken = setup_of(the_case, first.patient.muscles);
  const ExaminationSetup made = setup_of(the_case);
  for (const Eye eye : kBothEyes) {
    CHECK(are_alike(taken.patient.muscles.plant[eye], made.patient.muscles.plant[eye]));
    CHECK(are_alike(taken.patient.muscles.tired[eye], made.patient.muscles.tired[eye]));
  }
  CHECK(taken.patient.muscles.plant.left);
  CHECK(taken.patient.muscles.tired.left);
}

TEST_CASE("muscles that are others now, or tilted otherwise, are made anew", "[cases]") {
  Case the_case = read("fell_from_a_bicycle");
  const patient::Muscles first = setup_of(the_case).patient.muscles;
  the_case.muscles.left.superior_oblique.strength = 0.5;
  CHECK_FALSE(are_alike(setup_of(the_case, first).patient.muscles.plant.left, first.plant.left));
  CHECK(are_alike(setup_of(the_case, first).patient.muscles.plant.left,
                  setup_of(the_case).patient.muscles.plant.left));
  the_case.muscles.left.superior_oblique.strength = 1.0;
  CHECK_FALSE(setup_of(the_case, first).patient.muscles.plant.left);
  Case tilted = read("fell_from_a_bicycle");
  tilted.tilt_gain = 2.0;
  CHECK(are_alike(setup_of(tilted, first).patient.muscles.plant.left,
                  setup_of(tilted).patient.muscles.plant.left));
}

TEST_CASE("what is checked with tables that were made is refused with the same words", "[cases]") {
  Case the_case = read("fell_from_a_bicycle");
  const patient::Muscles made = setup_of(the_case).patient.muscles;
  the_case.muscles.left.medial_rectus.shorter = Degrees{40};
  the_case.muscles.left.lateral_rectus.shorter = Degrees{40};
  Problems warnings;
  CHECK(listed(check_meaning(the_case, &warnings, made)) ==
        listed(check_meaning(the_case, &warnings)));
}

// 0.05 prism dioptres are allowed between what is solved and what is simulated; here is no reason
// for more than what rounding does.
TEST_CASE("a draft's deviations are those of the case, from a fraction of its tables", "[cases]") {
  constexpr double kAgreePd = 1e-4;
  const truth::Spread on_all = [](std::size_t count, const auto& work) {
    program::spread(count, 0, work);
  };
  for (const char* name : {"slow_to_come_in", "turns_the_head_to_look_left", "staring_and_stiff",
                           "sinks_while_you_measure", "old_head_tilt"}) {
    INFO(name);
    const Case the_case = read(name);
    const ExaminationSetup whole = setup_of(the_case);
    const ExaminationSetup draft = set_up_draft(the_case, {});
    const truth::Truth one = truth::calc_deviations(whole, {}, {}, on_all);
    const truth::Truth other = truth::calc_deviations(draft, {}, {}, on_all);
    REQUIRE(one.conditions.size() == other.conditions.size());
    for (std::size_t i = 0; i < one.conditions.size(); ++i) {
      const truth::Condition& a = one.conditions[i];
      const truth::Condition& b = other.conditions[i];
      INFO(a.distance_m << " m, " << name_of(a.fixing) << " fixing");
      CHECK(a.cannot_fixate == b.cannot_fixate);
      CHECK(a.manifest == b.manifest);
      CHECK(a.deviating_eye == b.deviating_eye);
      CHECK(std::abs(a.horizontal_pd - b.horizontal_pd) < kAgreePd);
      CHECK(std::abs(a.vertical_pd - b.vertical_pd) < kAgreePd);
    }
    REQUIRE(one.gaze.size() == other.gaze.size());
    for (std::size_t i = 0; i < one.gaze.size(); ++i) {
      CHECK(one.gaze[i].cannot_fixate == other.gaze[i].cannot_fixate);
      CHECK(std::abs(one.gaze[i].horizontal_pd - other.gaze[i].horizontal_pd) < kAgreePd);
      CHECK(std::abs(one.gaze[i].vertical_pd - other.gaze[i].vertical_pd) < kAgreePd);
      CHECK(std::abs(one.gaze[i].torsion_deg - other.gaze[i].torsion_deg) < kAgreePd);
    }
    CHECK(one.comitant == other.comitant);
    for (const Eye eye : kBothEyes) {
      const auto& plant = draft.patient.muscles.plant[eye];
      if (!plant) continue;
      CHECK(plant->whole.nodes_solved() > 0);
      CHECK(2 * plant->whole.nodes_solved() < plant->whole.nodes());
    }
  }
}
