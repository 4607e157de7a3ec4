// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Hering: both eyes get the same version. While vergence is at rest, what one eye does its fellow
// does, to the last bits, covered or not, wherever the deviation has put it.
#include <random>

#include "tests/support/story.hpp"

using namespace redress;
using namespace redress::tests;

TEST_CASE("with vergence at rest both eyes make one movement") {
  std::mt19937 dice(20260202);
  std::uniform_real_distribution<double> aside(-20.0, 20.0);
  for (const double deviation_pd : {-25.0, -4.0, 0.0, 12.0, 30.0}) {
    for (const Eye covered : kBothEyes) {
      INFO(deviation_pd << " prism dioptres, " << name_of(covered) << " covered");
      std::vector<Act> acts{show(0, 20.0), cover(1000, covered, 0)};
      for (int i = 0; i < 8; ++i) {
        acts.push_back(show(20000 + 1500 * i, 20.0, aside(dice), 0.5 * aside(dice)));
      }
      const Trace trace = run_story(case_with_deviation(deviation_pd, deviation_pd), acts, 33000);
      double most = 0.0;
      double far = 0.0;
      for (Tick t = 20001; t <= 33000; ++t) {
        const auto& eye = trace.at(t).eye;
        const auto& start = trace.at(20000).eye;
        const double right = eye.right.horizontal_deg - start.right.horizontal_deg;
        const double left = eye.left.horizontal_deg - start.left.horizontal_deg;
        most = std::max(most, std::abs(right - left));
        most = std::max(most, std::abs((eye.right.vertical_deg - start.right.vertical_deg) -
                                       (eye.left.vertical_deg - start.left.vertical_deg)));
        far = std::max(far, std::abs(right));
      }
      CHECK(far > 5.0);
      CHECK(most < 0.02);
    }
  }
}
