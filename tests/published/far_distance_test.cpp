// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// A deviation of the far distance, beyond 6 m.
#include "sim/truth/conditions.hpp"
#include "sim/truth/truth.hpp"
#include "tests/support/story.hpp"

using namespace redress;
using namespace redress::tests;

namespace {

truth::Condition at(const Case& c, double distance_m) {
  return truth::calc_condition(setup_of(c), distance_m, false, Eye::right);
}

}  // namespace

TEST_CASE("a far distance comes out as written, and between it and 6 m linearly in 1/d", "[far]") {
  // 79 % of patients with divergence excess had 9 more at 60 feet than at 20 (Am Orthopt J 1989).
  const Case c = case_with(R"("deviation": {"distance_pd": -10, "near_pd": -6, "ac_a_pd_per_d": 5,
                                            "far_distance_pd": -19})");
  CHECK(at(c, 20).horizontal_pd == Approx(-19).margin(0.1));
  CHECK(at(c, 6).horizontal_pd == Approx(-10).margin(0.1));
  CHECK(at(c, 0.4).horizontal_pd == Approx(-6).margin(0.1));
  CHECK(at(c, 50).horizontal_pd == Approx(-19).margin(0.6));  // geometry alone
  // Half way in 1/d: 9.23 m.
  CHECK(at(c, 2.0 / (1.0 / 6.0 + 1.0 / 20.0)).horizontal_pd == Approx(-14.5).margin(0.2));
}

TEST_CASE("a squint can be manifest only beyond 6 m", "[far]") {
  const Case c = case_with(R"("deviation": {"distance_pd": -8, "near_pd": -8, "ac_a_pd_per_d": 4,
                                            "far_distance_pd": -18},
    "fusion": {"far_distance": {"base_out_pd": [null, 4, -6], "base_in_pd": [null, 7, 4]}})");
  CHECK(at(c, 20).manifest == truth::Manifest::intermittent);
  CHECK(at(c, 6).manifest == truth::Manifest::none);
  CHECK(at(c, 1).manifest == truth::Manifest::none);
  const truth::Truth t = truth::calc_truth(setup_of(c), {}, {false, true, false});
  CHECK(t.diagnosis.find("beyond 6 m") != std::string::npos);
  // Reserves of the far distance, as a prism bar reads the 4 and the 7.
  REQUIRE(t.reserves.size() == 3);
  CHECK(t.reserves[2].distance_m == 20.0);
  CHECK(t.reserves[2].base_out.break_pd == Approx(6));
  CHECK(t.reserves[2].base_in.break_pd == Approx(8));
}

TEST_CASE("without a far distance nothing changes beyond 6 m but the geometry", "[far]") {
  const Case plain = case_with_deviation(-4, -6);
  const Case by_distance = case_with(R"("deviation": {"distance_pd": -4, "near_pd": -6,
    "ac_a_pd_per_d": 4, "by_distance_pd": [[20, -12]]})");
  CHECK(at(plain, 20).horizontal_pd == Approx(-4).margin(1.0));
  CHECK(at(by_distance, 20).horizontal_pd == Approx(-12).margin(0.1));
}
