// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Dissociated vertical deviation, as the trace shows it.
#include "sim/truth/truth.hpp"
#include "tests/support/story.hpp"

using namespace redress;
using namespace redress::tests;

namespace {

Case with_dvd(double right_pd, double left_pd) {
  return case_with(R"("deviation": {"distance_pd": 0, "near_pd": -3},
    "instability": {"dvd_pd": {"right": )" +
                   std::to_string(right_pd) + R"(, "left": )" + std::to_string(left_pd) + "}}");
}

double height(const Trace& trace, Tick t, Eye eye) { return trace.at(t).eye[eye].vertical_deg; }

}  // namespace

TEST_CASE("a covered eye with DVD rises with a time constant of 0.67 s and extorts", "[dvd]") {
  // van Rijn, Simonsz & ten Tusscher 1997: 0.67 +- 0.14 s. 10 prism dioptres are 5.71 degrees.
  for (const Eye eye : kBothEyes) {
    const Trace trace = run_story(eye == Eye::right ? with_dvd(10, 0) : with_dvd(0, 10),
                                  {cover(1000, eye, 0)}, 8000);
    const Tick covered = trace.covered_after(1000, eye);
    const double start = height(trace, covered, eye);
    const double end = height(trace, 8000, eye) - start;
    CHECK(end == Approx(5.71).margin(0.02));
    const Tick reached = trace.when(covered, [&](const Observation& o) {
      return o.eye[eye].vertical_deg - start > 0.632 * end;
    });
    CHECK(static_cast<double>(reached - covered) / 1000.0 == Approx(0.67).margin(0.02));
    // Extorsion turns the top of the right eye to the right, of the left eye to the left.
    const double torsion =
        trace.at(8000).eye[eye].torsion_deg - trace.at(covered).eye[eye].torsion_deg;
    CHECK(side_of(eye) * torsion > 2.0);
    // The fixing eye intorts (Guyton et al. 1998): both tops go the same way.
    const double fixing = trace.at(8000).eye[fellow(eye)].torsion_deg -
                          trace.at(covered).eye[fellow(eye)].torsion_deg;
    CHECK(side_of(eye) * fixing > 0.5);
    CHECK(side_of(eye) * fixing < side_of(eye) * torsion);
    for (Tick t = covered; t <= 8000; ++t) {
      REQUIRE(std::abs(height(trace, t, fellow(eye)) - height(trace, covered, fellow(eye))) < 0.02);
    }
  }
}

TEST_CASE("an eye with DVD sinks slowly when it sees, and no eye ever comes from below", "[dvd]") {
  // Guyton et al. 1998: slow return, no matching hypotropia of the fellow.
  std::vector<Act> acts;
  for (int i = 0; i < 8; ++i) {
    acts.push_back(cover(1000 + 2500 * i, i % 2 == 0 ? Eye::right : Eye::left));
  }
  acts.push_back(uncover(21000));
  for (const double left : {10.0, 4.0, 0.0}) {
    const Trace trace = run_story(with_dvd(10, left), acts, 25000);
    for (Tick t = 0; t <= 25000; ++t) {
      for (const Eye eye : kBothEyes) {
        INFO(t << " ms, " << name_of(eye) << " eye");
        REQUIRE(height(trace, t, eye) > -0.2);
      }
    }
    // Uncovered at about 3.6 s: half a second later it is still half way up.
    const Tick free = trace.free_after(3500, Eye::right);
    CHECK(height(trace, free, Eye::right) > 5.0);
    CHECK(height(trace, free + 500, Eye::right) > 0.4 * height(trace, free, Eye::right));
    CHECK(height(trace, free + 2400, Eye::right) < 0.1 * height(trace, free, Eye::right));
    CHECK(height(trace, 25000, Eye::right) < 0.1);
  }
}

TEST_CASE("the truth tells a dissociated vertical deviation from a hyperphoria", "[dvd]") {
  const truth::Truth both = truth::calc_truth(setup_of(with_dvd(8, 8)), {}, {false, false, false});
  for (const truth::Condition& c : both.conditions) {
    CHECK(c.vertical_pd == Approx(c.fixing == Eye::right ? -8.0 : 8.0).margin(0.2));
    CHECK(c.manifest == truth::Manifest::none);
  }
  CHECK(both.diagnosis == "dissociated vertical deviation");
  CHECK(truth::calc_truth(setup_of(with_dvd(8, 0)), {}, {false, false, false}).diagnosis ==
        "dissociated vertical deviation of the right eye");
  CHECK(truth::calc_truth(
            setup_of(
                case_with(R"("deviation": {"distance_pd": 0, "near_pd": -3, "vertical_pd": 4})")),
            {}, {false, false, false})
            .diagnosis == "right hyperphoria");
}
