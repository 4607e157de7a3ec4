// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// What prisms do to an eye that looks through them, in a whole examination: published readings.
#include "tests/support/story.hpp"

using namespace redress;
using namespace redress::tests;

namespace {

// How far the fixing right eye turns when the prisms are put before it and the left is covered, as
// the reading of a deviation: 100 tan of the turn.
double turn_behind(std::vector<Act> prisms, double distance_m) {
  std::vector<Act> acts{show(0, distance_m), cover(0, Eye::left, 0)};
  acts.insert(acts.end(), prisms.begin(), prisms.end());
  const Trace trace = run_story(case_with_deviation(0, 0), acts, 7000);
  const double turned =
      trace.at(7000).eye.right.horizontal_deg - trace.at(1900).eye.right.horizontal_deg;
  return std::abs(100.0 * std::tan(turned / kDegrees));
}

Act prism(double label, PrismMaterial material, PrismHold held, std::int32_t slot = 1) {
  act::HoldPrism a;
  a.eye = Eye::right;
  a.power = PrismDioptres{label};
  a.base = Degrees{180};
  a.material = material;
  a.held = held;
  a.slot = slot;
  return {2000, a};
}

}  // namespace

TEST_CASE("a glass prism of 40 held frontal reads 32") {
  // Thompson & Guyton 1983, Ophthalmology 90:204 (abstract).
  CHECK(turn_behind({prism(40, PrismMaterial::glass, PrismHold::frontal)}, 100.0) ==
        Approx(32).margin(0.5));
}

TEST_CASE("five on forty in glass reads 59") {
  // Thompson & Guyton 1983 (abstract); faces together, Prentice position.
  CHECK(turn_behind({prism(40, PrismMaterial::glass, PrismHold::prentice),
                     prism(5, PrismMaterial::glass, PrismHold::prentice, 2)},
                    100.0) == Approx(59).margin(0.6));
}

TEST_CASE("a prism is weaker for a near target, by the published formula") {
  // P / (1 + s/l) (Brooks & Borish, System for Ophthalmic Dispensing); s 27 mm, l from the prism.
  for (const double distance_m : {0.33, 0.40, 1.0, 6.0}) {
    const double l = distance_m - 0.027;
    const double expected = 10.0 / (1.0 + 0.027 / l);
    INFO(distance_m << " m");
    CHECK(turn_behind({prism(10, PrismMaterial::plastic, PrismHold::frontal)}, distance_m) ==
          Approx(expected).margin(0.06));
  }
}
