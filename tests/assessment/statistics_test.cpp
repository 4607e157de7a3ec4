// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Statistics against published worked examples (each named beside its check) and Boost.Math.
#include <cmath>
#include <vector>

#include <boost/math/distributions/students_t.hpp>
#include <boost/math/statistics/linear_regression.hpp>
#include <catch2/catch.hpp>

#include "sim/assessment/standard.hpp"
#include "sim/assessment/statistics.hpp"
#include "sim/basics/distributions.hpp"

using namespace redress;
using namespace redress::assessment;

namespace {

// Bland & Altman 1986 (Lancet 327:307): peak expiratory flow, l/min, 17 people, first readings.
const std::vector<double> kWright{494, 395, 516, 434, 476, 557, 413, 442, 650,
                                  433, 417, 656, 267, 478, 178, 423, 427};
const std::vector<double> kMini{512, 430, 520, 428, 500, 600, 364, 380, 658,
                                445, 432, 626, 260, 477, 259, 350, 451};
// Shrout & Fleiss 1979: 6 targets by 4 judges.
const Table kTargets{{9, 2, 5, 8}, {6, 1, 3, 2},  {8, 4, 6, 8},
                     {7, 1, 2, 6}, {10, 5, 6, 9}, {6, 2, 4, 7}};

}  // namespace

TEST_CASE("limits of agreement as Bland and Altman 1986 print them", "[assessment]") {
  const auto ba = calc_bland_altman(kWright, kMini);
  REQUIRE(ba);
  // Paper: -2.1 and 38.8; computed -2.118 and 38.765.
  CHECK(ba->bias == Approx(-2.118).margin(5e-4));
  CHECK(ba->deviation == Approx(38.765).margin(5e-4));
  // The paper's 2 SD: -79.65 to 75.41.
  CHECK(ba->bias - 2 * ba->deviation == Approx(-79.65).margin(5e-3));
  CHECK(ba->bias + 2 * ba->deviation == Approx(75.41).margin(5e-3));
  CHECK(ba->limits.low == Approx(-78.10).margin(5e-3));
  CHECK(ba->limits.high == Approx(73.86).margin(5e-3));
  // Intervals as in the paper: bias -22.0 to 17.8, limits -114.2 to -45.1 and 40.9 to 109.9. The
  // paper takes them about 2 SD; here they are about 1.96 SD, so the width is compared.
  CHECK(ba->bias_interval.low == Approx(-22.0).margin(0.06));
  CHECK(ba->bias_interval.high == Approx(17.8).margin(0.06));
  CHECK(ba->lower_limit_interval.high - ba->lower_limit_interval.low ==
        Approx(-45.1 + 114.2).margin(0.15));
  CHECK(ba->upper_limit_interval.high - ba->upper_limit_interval.low ==
        Approx(109.9 - 40.9).margin(0.15));
  CHECK(*calc_correlation(kWright, kMini) == Approx(0.943).margin(5e-4));
}

TEST_CASE("kappa, plain and weighted, as printed", "[assessment]") {
  // Cohen 1968, n 200.
  const Table cohen{{0.44, 0.07, 0.09}, {0.05, 0.20, 0.05}, {0.01, 0.03, 0.06}};
  CHECK(*calc_kappa(cohen) == Approx(0.492).margin(5.5e-4));
  CHECK(*calc_weighted_kappa(cohen, {{0, 1, 3}, {1, 0, 6}, {3, 6, 0}}) ==
        Approx(0.348).margin(5e-4));
  CHECK(*calc_weighted_kappa(cohen, {{0, 1, 4}, {1, 0, 6}, {2, 2, 0}}) ==
        Approx(0.353).margin(5e-4));
  CHECK(*calc_weighted_kappa(cohen, make_linear_weights(3)) == Approx(0.4737).margin(5e-5));
  CHECK(*calc_weighted_kappa(cohen, make_quadratic_weights(3)) == Approx(0.4545).margin(5e-5));
  // Fleiss, Cohen & Everitt 1969.
  const Table fleiss{{106, 10, 4}, {22, 28, 10}, {2, 12, 6}};
  CHECK(*calc_kappa(fleiss) == Approx(0.4286).margin(5e-5));
  // Their weights of agreement 1 0 .4444 / 0 1 .6667 / .4444 .6667 1, as disagreement.
  const Table weights{{0, 1, 0.5556}, {1, 0, 0.3333}, {0.5556, 0.3333, 0}};
  CHECK(*calc_weighted_kappa(fleiss, weights) == Approx(0.5071).margin(5e-5));
  // Everybody in one category: chance alone would agree.
  CHECK_FALSE(calc_kappa({{5, 0}, {0, 0}}));
}

TEST_CASE("analysis of variance, intraclass correlations, alpha: Shrout and Fleiss 1979",
          "[assessment]") {
  const auto c = calc_components(kTargets);
  REQUIRE(c);
  CHECK(c->between_ms == Approx(11.24).margin(5e-3));
  CHECK(c->within_ms == Approx(6.26).margin(5e-3));
  CHECK(c->items_ms == Approx(32.49).margin(5e-3));
  CHECK(c->residual_ms == Approx(1.02).margin(5e-3));
  const Intraclass icc = calc_intraclass(*c, kTargets.size());
  CHECK(icc.one == Approx(0.166).margin(5e-4));
  CHECK(icc.two == Approx(0.290).margin(5e-4));
  CHECK(icc.three == Approx(0.715).margin(5e-4));
  CHECK(icc.one_k == Approx(0.443).margin(5e-4));
  CHECK(icc.two_k == Approx(0.620).margin(5e-4));
  CHECK(icc.three_k == Approx(0.909).margin(5e-4));
  CHECK(*calc_alpha(kTargets) == Approx(0.909).margin(5e-4));
  CHECK(c->persons == Approx(2.556).margin(5e-4));
  CHECK(c->items == Approx(5.244).margin(5e-4));
  CHECK(c->residual == Approx(1.019).margin(5e-4));
  CHECK(calc_dependability(*c, 4) == Approx(0.620).margin(5e-4));
  // Alpha is the generalisability of as many items (Hoyt 1941).
  CHECK(calc_generalisability(*c, 4) == Approx(*calc_alpha(kTargets)));
}

TEST_CASE("how many items would do, by Spearman and Brown", "[assessment]") {
  const auto c = calc_components(kTargets);
  const auto items = find_items_for(*c, 0.8);
  REQUIRE(items);
  // One judge has .715; n of them n r / (1 + (n - 1) r): 2 judges .834.
  CHECK(*items == 2);
  CHECK(calc_generalisability(*c, 2) == Approx(2 * 0.7148 / 1.7148).margin(1e-3));
  Components nothing;
  nothing.residual = 1.0;
  CHECK_FALSE(find_items_for(nothing, 0.8));
}

TEST_CASE("without an item, and an item against the rest", "[assessment]") {
  // Four persons, third item the other way round: alpha rises without it.
  const Table table{{1, 2, 4}, {2, 3, 3}, {3, 4, 2}, {4, 5, 1}};
  CHECK(*calc_alpha_without(table, 2) == Approx(1.0));
  CHECK(*calc_alpha(table) < 0.0);
  CHECK_FALSE(calc_discrimination(table, 0));  // the others add up to the same for everybody
  // By hand: 1, 2, 3 against 1, 3, 3; 2 / sqrt(2 * 8/3).
  CHECK(*calc_discrimination({{1, 1, 0}, {2, 2, 1}, {3, 3, 0}}, 0) == Approx(std::sqrt(0.75)));
  CHECK_FALSE(calc_alpha({{1, 2}}));
  CHECK_FALSE(calc_alpha({{1, 1}, {1, 1}}));
}

TEST_CASE("Student's t against Boost.Math", "[assessment]") {
  for (const double degrees : {1.0, 2.0, 5.5, 16.0, 120.0, 5000.0}) {
    const boost::math::students_t reference(degrees);
    for (const double p : {0.005, 0.025, 0.3, 0.5, 0.9, 0.975, 0.9995}) {
      INFO(degrees << " degrees, p " << p);
      const double t = boost::math::quantile(reference, p);
      CHECK(calc_t_quantile(p, degrees) == Approx(t).epsilon(1e-9).margin(1e-9));
      CHECK(calc_t_probability(t, degrees) == Approx(p).epsilon(1e-9));
    }
  }
}

TEST_CASE("borderline regression against Boost.Math's line", "[assessment]") {
  using enum GlobalRating;
  const std::vector<GlobalRating> ratings{fail, borderline, borderline, pass,
                                          good, good,       excellent};
  const std::vector<double> x{0, 1, 1, 2, 3, 3, 4};
  const std::vector<double> marks{31, 44, 52, 60, 71, 66, 85};
  const auto [intercept, slope] = boost::math::statistics::simple_ordinary_least_squares(x, marks);
  const auto found = calc_borderline_cut(ratings, marks);
  REQUIRE(found);
  CHECK(found->line.slope == Approx(slope));
  CHECK(found->line.intercept == Approx(intercept));
  CHECK(found->cut.mark == Approx(intercept + slope));
  // The standard error of a fitted height, by its formula with sums written out.
  double rss = 0.0;
  double sxx = 0.0;
  for (std::size_t i = 0; i < x.size(); ++i) {
    rss += std::pow(marks[i] - intercept - slope * x[i], 2);
    sxx += std::pow(x[i] - 2.0, 2);
  }
  CHECK(*found->cut.error == Approx(std::sqrt(rss / 5.0 * (1.0 / 7.0 + 1.0 / sxx))));
  // All rated alike, or the better rated with fewer marks: no line to be drawn.
  CHECK_FALSE(calc_borderline_cut(std::vector{pass, pass, pass}, std::vector<double>{1, 2, 3}));
  CHECK_FALSE(calc_borderline_cut(std::vector{fail, pass, good}, std::vector<double>{90, 50, 20}));
}

TEST_CASE("modified Angoff: the mean over items and judges, its error between judges",
          "[assessment]") {
  const auto cut = calc_angoff_cut({{50, 60, 70}, {40, 50, 60}, {60, 70, 80}});
  REQUIRE(cut);
  CHECK(cut->mark == Approx(60.0));
  CHECK(*cut->error == Approx(10.0 / std::sqrt(3.0)));
  CHECK_FALSE(calc_angoff_cut({{50, 60}})->error);
  CHECK_FALSE(calc_angoff_cut({}));
  const Cut both = combine_cuts(std::vector<Cut>{{50, 3.0}, {60, 4.0}});
  CHECK(both.mark == Approx(55.0));
  CHECK(*both.error == Approx(2.5));
}

TEST_CASE("interval of a share: Wilson's, as in Newcombe 1998", "[assessment]") {
  // Newcombe 1998 (Stat Med 17:857), method 3: 81 of 263, 0.2553 to 0.3662; 0 of 20, 0 to 0.1611
  // (from memory).
  const Interval many = calc_share_interval(81, 263);
  CHECK(many.low == Approx(0.2553).margin(5e-5));
  CHECK(many.high == Approx(0.3662).margin(5e-5));
  CHECK(calc_share_interval(0, 20).high == Approx(0.1611).margin(5e-5));
  CHECK(calc_share_interval(0, 20).low == Approx(0.0).margin(1e-12));
}
