// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// First-order blocks against odeint: the equations as their headers state them, integrated by an
// adaptive method of fifth order, against the engine's steps of a millisecond.
#include <algorithm>
#include <cmath>
#include <utility>
#include <vector>

#include <boost/numeric/odeint.hpp>
#include <catch2/catch.hpp>

#include "tests/support/story.hpp"

using namespace redress;
using namespace redress::tests;

namespace {

namespace odeint = boost::numeric::odeint;
using State = std::vector<double>;

// The solution at each whole millisecond up to the last.
template <class System>
std::vector<State> solve(System system, State start, int last_ms) {
  std::vector<State> rows;
  auto stepper = odeint::make_dense_output(1e-10, 1e-10, odeint::runge_kutta_dopri5<State>());
  odeint::integrate_const(stepper, system, start, 0.0, 0.001 * (last_ms + 0.5), 0.001,
                          [&](const State& x, double) { rows.push_back(x); });
  return rows;
}

Act show_at(Tick at_ms, double demand_d) { return show(at_ms, 1.0 / demand_d + 0.0135); }

}  // namespace

TEST_CASE("accommodation is the first-order block that its header states") {
  // goal = 0.75 + 0.85 (demand - 0.75), 350 ms late, 0.28 s up and 0.22 s down, at most 10 D/s up,
  // and down 1.39 D/s a dioptre and 1.12.
  const auto goal_of = [](double demand) { return 0.75 + 0.85 * (demand - 0.75); };
  for (const auto& [from, to] : {std::pair{0.5, 4.0}, {4.0, 0.5}, {0.5, 6.5}}) {
    INFO("from " << from << " to " << to << " D");
    const Trace trace =
        run_story(case_with_deviation(-1, -3),
                  {show_at(0, from), cover(0, Eye::left, 0), show_at(1000, to)}, 4000);
    const double goal = goal_of(to);
    const double tau = to > from ? 0.28 : 0.22;
    const auto rows = solve(
        [goal, tau](const State& a, State& speed, double) {
          speed = {std::clamp((goal - a[0]) / tau, -(1.39 * a[0] + 1.12), 10.0)};
        },
        {goal_of(from)}, 2500);
    double worst = 0;
    for (int ms = 0; ms <= 2500; ++ms) {
      const double ours = trace.at(1350 + ms).accommodation_d;
      worst = std::max(worst, std::abs(ours - rows[static_cast<std::size_t>(ms)][0]));
    }
    INFO("worst difference " << worst << " D");
    // Two milliseconds of the fastest change: the delay may be read so differently.
    CHECK(worst < 0.002 * std::min(std::abs(goal - goal_of(from)) / tau, 10.0));
  }
}

TEST_CASE("release of fusion under cover is the two first-order blocks that its header states") {
  // m' = -m / release and x' = (m - x) / 0.05 s, after 160 ms of delay and 100 ms of hold.
  for (const double release_s : {0.6, 0.9, 1.2}) {
    INFO("release " << release_s << " s");
    const Case c = case_with(R"("deviation": {"distance_pd": -8, "near_pd": -8},
      "fusion": {"release_time_constant_s": )" +
                             std::to_string(release_s) + "}");
    const Trace trace = run_story(c, {cover(1000, Eye::right, 0)}, 20000);
    const auto turned_deg = [&](Tick t) {
      return trace.at(t).eye.left.horizontal_deg - trace.at(t).eye.right.horizontal_deg;
    };
    const double resting = turned_deg(20000);
    const Tick begins = trace.when(1001, [&](const Observation& o) {
      return std::abs(turned_deg(o.at_ms) - turned_deg(1000)) > 1e-9;
    }) - 1;
    CHECK(begins - 1000 >= 255);
    CHECK(begins - 1000 <= 265);
    const double held = turned_deg(begins) - resting;
    const auto rows = solve(
        [release_s](const State& y, State& speed, double) {
          speed = {-y[0] / release_s, (y[0] - y[1]) / 0.05};
        },
        {held, held}, 6000);
    double worst = 0;
    for (int ms = 0; ms <= 6000; ++ms) {
      const double ours = turned_deg(begins + ms) - resting;
      worst = std::max(worst, std::abs(ours - rows[static_cast<std::size_t>(ms)][1]));
    }
    INFO("worst difference " << worst << " degrees of " << held);
    CHECK(worst < 0.002 * held / release_s);  // two milliseconds of the fastest change
  }
}

TEST_CASE("the rise of an eye with DVD is the first-order block that its header states") {
  // dD/dt = (D_max (1 - seen) - D) / 0.67 s, up under a cover and down again.
  const Case c = case_with(R"("deviation": {"distance_pd": 0, "near_pd": -3},
    "instability": {"dvd_pd": {"right": 12, "left": 0}})");
  const Trace trace = run_story(c, {cover(1000, Eye::right, 0), uncover(6000, 0)}, 10000);
  const double full = std::atan(0.12) * kDegrees;
  const double level = trace.at(1000).eye.right.vertical_deg;
  for (const bool up : {true, false}) {
    const Tick from =
        up ? trace.covered_after(1000, Eye::right) : trace.free_after(6000, Eye::right);
    const double goal = up ? full : 0.0;
    const auto rows =
        solve([goal](const State& d, State& speed, double) { speed = {(goal - d[0]) / 0.67}; },
              {trace.at(from).eye.right.vertical_deg - level}, 3500);
    double worst = 0;
    for (int ms = 0; ms <= 3500; ++ms) {
      const double ours = trace.at(from + ms).eye.right.vertical_deg - level;
      worst = std::max(worst, std::abs(ours - rows[static_cast<std::size_t>(ms)][0]));
    }
    INFO((up ? "rising" : "sinking") << ": worst difference " << worst << " degrees");
    // Two milliseconds of the fastest change, as above.
    CHECK(worst < 0.002 * full / 0.67);
  }
}
