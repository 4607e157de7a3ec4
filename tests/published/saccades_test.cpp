// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Saccades made, against published norms.
#include <algorithm>
#include <vector>

#include "tests/support/story.hpp"

using namespace redress;
using namespace redress::tests;

namespace {

struct Made {
  double size_deg = 0;
  double peak_deg_s = 0;
};

// The first saccade towards a target that jumps so far; sizes are of what was made, not asked for.
Made saccade_to(double horizontal, double vertical) {
  const Case c = case_with_deviation(-1, -3);
  const Trace trace = run_story(c, {show(0, 6.0), show(1000, 6.0, horizontal, vertical)}, 1600);
  Made made;
  const auto place = [&](Tick t) {
    return vertical != 0 ? trace.at(t).eye.right.vertical_deg
                         : trace.at(t).eye.right.horizontal_deg;
  };
  Tick t = 1001;
  while (t < 1590 && std::abs(place(t) - place(1000)) < 0.1) ++t;
  const Tick start = t;
  // Ends when it is slower than 5 degrees a second.
  do {
    made.peak_deg_s = std::max(made.peak_deg_s, std::abs(place(t + 1) - place(t - 1)) * 500.0);
    ++t;
  } while (t < 1590 && std::abs(place(t + 1) - place(t - 1)) * 500.0 > 5.0);
  made.size_deg = std::abs(place(t) - place(start - 1));
  return made;
}

// The target's distance for which the saccade made has the wanted size.
Made saccade_made(double wanted, bool vertical) {
  double asked = wanted;
  Made made;
  for (int i = 0; i < 12; ++i) {
    made = vertical ? saccade_to(0, asked) : saccade_to(asked, 0);
    asked += wanted - made.size_deg;
  }
  CHECK(made.size_deg == Approx(wanted).margin(0.2));
  return made;
}

}  // namespace

TEST_CASE("peak velocities of saccades made lie within one SD of the published norms") {
  // Hopf et al. 2018, PLoS ONE, reflexive saccade norms, n = 100.
  struct Row {
    double size_deg, mean, sd;
    bool vertical;
  };
  const Row rows[] = {{5, 213, 29, false}, {15, 352, 50, false}, {30, 455, 67, false},
                      {5, 208, 36, true},  {10, 303, 50, true},  {20, 391, 71, true}};
  for (const Row& row : rows) {
    INFO((row.vertical ? "vertical " : "horizontal ") << row.size_deg << " degrees");
    CHECK(saccade_made(row.size_deg, row.vertical).peak_deg_s == Approx(row.mean).margin(row.sd));
  }
}

namespace {

// Anderson-Darling test of normality, both parameters estimated (D'Agostino & Stephens 1986, table
// 4.7): adjusted A2 and its p value.
double anderson_darling_p(std::vector<double> x) {
  std::sort(x.begin(), x.end());
  const double n = static_cast<double>(x.size());
  double mean = 0;
  for (const double v : x) mean += v / n;
  double variance = 0;
  for (const double v : x) variance += (v - mean) * (v - mean) / (n - 1);
  const auto phi = [&](double v) {
    return 0.5 * std::erfc(-(v - mean) / std::sqrt(2.0 * variance));
  };
  double s = 0;
  for (std::size_t i = 0; i < x.size(); ++i) {
    s += (2.0 * static_cast<double>(i) + 1.0) *
         (std::log(phi(x[i])) + std::log(1.0 - phi(x[x.size() - 1 - i])));
  }
  const double a2 = (-n - s / n) * (1.0 + 0.75 / n + 2.25 / (n * n));
  if (a2 >= 0.6) return std::exp(1.2937 - 5.709 * a2 + 0.0186 * a2 * a2);
  if (a2 >= 0.34) return std::exp(0.9177 - 4.279 * a2 - 1.38 * a2 * a2);
  if (a2 >= 0.2) return 1.0 - std::exp(-8.318 + 42.796 * a2 - 59.938 * a2 * a2);
  return 1.0 - std::exp(-13.436 + 101.14 * a2 - 223.73 * a2 * a2);
}

}  // namespace

TEST_CASE("the reciprocal of 500 latencies is Gaussian") {
  // Carpenter & Williams 1995, Nature 377:59 (LATER); median 200 to 210 ms, SD of the rate 15 to
  // 25 % (Noorani & Carpenter 2016).
  std::vector<Act> acts{show(0, 6.0)};
  constexpr int kSaccades = 540;
  for (int i = 0; i < kSaccades; ++i) {
    acts.push_back(show(1000 + 1600 * i, 6.0, i % 2 == 0 ? 8.0 : -8.0));
  }
  Case c = case_with_deviation(-1, -3);
  const Trace trace = run_story(c, acts, 1000 + 1600 * kSaccades, 1.0, 5);
  std::vector<double> rates;
  for (int i = 0; i < kSaccades && rates.size() < 500; ++i) {
    const Tick at = 1000 + 1600 * i;
    // Leave out targets that jumped near a blink: the eye has to see it.
    bool blink = false;
    for (Tick t = at - 500; t < at + 700; ++t) {
      blink = blink || trace.at(t).eye.right.lid_open_fraction < 0.95;
    }
    if (blink) continue;
    for (Tick t = at + 60; t < at + 900; ++t) {
      // Version: the mean of both eyes, faster than 60 degrees a second.
      const auto version = [&](Tick k) {
        return 0.5 * (trace.at(k).eye.right.horizontal_deg + trace.at(k).eye.left.horizontal_deg);
      };
      if (std::abs(version(t + 2) - version(t)) * 500.0 > 60.0 &&
          std::abs(version(t + 20) - version(t)) > 2.0) {
        rates.push_back(1000.0 / static_cast<double>(t - at));
        break;
      }
    }
  }
  REQUIRE(rates.size() >= 400);
  const double p = anderson_darling_p(rates);
  INFO(rates.size() << " latencies, p = " << p);
  CHECK(p > 0.01);
  std::sort(rates.begin(), rates.end());
  CHECK(1000.0 / rates[rates.size() / 2] == Approx(215).margin(15));
}
