// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Tables of muscles taken from an earlier setup are those that would be made.
#include <string>

#include <catch2/catch.hpp>

#include "sim/cases/made_muscles.hpp"
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
