// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The drill: simulated observers of known threshold and slope are found again within the stated
// interval as often as it states; the movement is a saccade of the engine's main sequence.
#include <catch2/catch.hpp>

#include <cmath>
#include <set>

#include "sim/basics/random.hpp"
#include "sim/drill/drill.hpp"
#include "sim/drill/movement.hpp"
#include "sim/patient/parameters.hpp"

using namespace redress;
using namespace redress::drill;

namespace {

/// Names the cover by the psychometric function; chance from its own stream.
ThresholdEstimate observe(double threshold_pd, double slope, std::uint64_t seed) {
  Drill drill(seed);
  while (!drill.done()) {
    const std::size_t n = drill.answered().size();
    const Pair& pair = drill.current();
    const bool right =
        random_uniform(seed, Stream::person, n) < calc_chance(pair.size_pd, threshold_pd, slope);
    drill.take({right == pair.second, pair.way, pair.size_pd});
  }
  return drill.estimate();
}

bool holds(const ThresholdEstimate& estimate, double threshold_pd) {
  return estimate.low <= threshold_pd && threshold_pd <= estimate.high;
}

}  // namespace

TEST_CASE("drill: the threshold is what is seen three times in four") {
  for (const double slope : {1.0, 2.0, 5.6}) {
    CHECK(calc_chance(1.6, 1.6, slope) == Approx(0.75).epsilon(1e-12));
  }
  // Nothing to see is a guess; the largest is named but for a slip.
  CHECK(calc_chance(0, 1.6, 2) == 0.5);
  CHECK(calc_chance(20, 0.5, 2) == Approx(1 - kLapse).epsilon(1e-9));
}

TEST_CASE("drill: observers drawn as the method supposes lie in their 95 % interval so often") {
  // Bayes: over thresholds and slopes drawn from the prior, an interval that holds 95 % of the
  // posterior holds the truth in 95 %. 300 sittings: 95 % +- 3 standard errors.
  constexpr int kSittings = 300;
  constexpr double kSlopes[] = {1.0, 1.4, 2.0, 2.8, 4.0, 5.6};
  int held = 0;
  double squares = 0;
  for (std::uint64_t seed = 1; seed <= kSittings; ++seed) {
    const double share = random_uniform(seed, Stream::person, 1000);
    const double threshold =
        kLeastThresholdPd * std::pow(kMostThresholdPd / kLeastThresholdPd, share);
    const auto which = static_cast<std::size_t>(6 * random_uniform(seed, Stream::person, 1001));
    const ThresholdEstimate found = observe(threshold, kSlopes[which], seed);
    if (holds(found, threshold)) ++held;
    squares += std::pow(std::log10(found.pd / threshold), 2);
  }
  INFO(held << " of " << kSittings << ", rms " << std::sqrt(squares / kSittings) << " log units");
  const double rate = static_cast<double>(held) / kSittings;
  const double error = std::sqrt(0.95 * 0.05 / kSittings);
  CHECK(rate > 0.95 - 3 * error);
  CHECK(rate < 0.95 + 3 * error);
}

TEST_CASE("drill: known observers are found, a better one below a worse one") {
  double before = 0;
  for (const double threshold : {0.8, 1.6, 3.2}) {
    constexpr int kSittings = 40;
    int held = 0;
    double mean = 0;
    for (std::uint64_t seed = 1; seed <= kSittings; ++seed) {
      const ThresholdEstimate found = observe(threshold, 2.0, seed);
      if (holds(found, threshold)) ++held;
      mean += std::log(found.pd) / kSittings;
    }
    INFO(threshold << ": " << std::exp(mean) << ", held in " << held);
    CHECK(held >= 34);  // 95 % less 3 standard errors
    CHECK(std::exp(mean) == Approx(threshold).epsilon(0.15));
    CHECK(std::exp(mean) > before);
    before = std::exp(mean);
  }
}

TEST_CASE("drill: the same seed and answers give the same pairs, another seed others") {
  Drill a(7);
  Drill b(7);
  Drill c(8);
  int differences = 0;
  std::set<Way> ways;
  while (!a.done()) {
    CHECK(a.current().size_pd == b.current().size_pd);
    CHECK(a.current().second == b.current().second);
    CHECK(a.current().way == b.current().way);
    if (a.current().second != c.current().second || a.current().way != c.current().way) {
      ++differences;
    }
    ways.insert(a.current().way);
    for (Drill* each : {&a, &b, &c}) each->take({false, Way::in, 2});
  }
  CHECK(differences > 10);
  CHECK(ways.size() == 4);
  CHECK(a.answered().size() == kPairs);
}

TEST_CASE("drill: a third of the pairs goes over all sizes, whatever is answered") {
  for (const bool sees_all : {true, false}) {
    Drill drill(3);
    std::vector<double> habit;
    while (!drill.done()) {
      const Pair& pair = drill.current();
      if (drill.answered().size() % 3 == 2) habit.push_back(pair.size_pd);
      drill.take({sees_all == pair.second, pair.way, pair.size_pd});
    }
    REQUIRE(habit.size() == 13);
    std::sort(habit.begin(), habit.end());
    CHECK(habit.front() < 2.6);
    CHECK(habit.back() > 15);
  }
}

TEST_CASE("drill: the answer is told in words, after all three") {
  const Pair shown{2.1, Way::out, true};
  CHECK(describe_answer({shown, {true, Way::out, 3}}) == "The second: 2Δ out. You said 3Δ.");
  CHECK(describe_answer({shown, {false, Way::out, 3}}) ==
        "The second: 2Δ out. You said the first.");
  CHECK(describe_answer({shown, {true, Way::up, 3}}) == "The second: 2Δ out. You said up.");
  CHECK(describe_answer({{0.4, Way::in, false}, {false, Way::in, 0}}) ==
        "The first: 0.5Δ in. You said 0Δ.");
}

TEST_CASE("drill: the eye stands off by the size under the cover, and comes back by a saccade") {
  const Pair pair{10, Way::in, true};
  const double full = std::atan(0.1) * 180 / std::acos(-1.0);
  // Still in the first cover, whatever it is.
  for (double t = 0; t < kCoverMs; t += 7) {
    CHECK(calc_shown(pair, t).horizontal_deg == 0);
    CHECK(calc_shown(pair, t).vertical_deg == 0);
  }
  // Nothing shows before the eye is covered; it moves in, so it stood out: + for the right eye.
  CHECK(calc_shown(pair, kCoverMs + kStillMs + kTravelMs - 1).horizontal_deg == 0);
  CHECK(calc_shown(pair, kCoverMs + kStillMs + kTravelMs + 1).cover_share == Approx(1));
  const double lifted = kCoverMs + kStillMs + kTravelMs + kCoveredMs;
  CHECK(calc_shown(pair, lifted).horizontal_deg == Approx(full));
  CHECK(calc_shown(pair, kPairMs).horizontal_deg == Approx(0).margin(1e-9));
  CHECK(calc_shown(pair, kPairMs).over);
  double peak = 0;
  for (double t = lifted; t < kPairMs; t += 1) {
    const double now = calc_shown(pair, t).horizontal_deg;
    const double next = calc_shown(pair, t + 1).horizontal_deg;
    CHECK(next <= now + 1e-12);
    peak = std::max(peak, 1000 * (now - next));
  }
  // Peak speed of the waveform: eta (1 - e^(-A/c)), Dai et al. 2016; what the cut tails add is
  // scaled in, below 2 %.
  const patient::Saccades s;
  const double expected =
      s.asymptotic_speed_deg_s * (1 - std::exp(-full / s.amplitude_constant_deg));
  CHECK(peak == Approx(expected).epsilon(0.05));
}

TEST_CASE("drill: each way goes where its name says") {
  const double covered = kStillMs + kTravelMs + kCoveredMs;
  const auto off = [&](Way way) { return calc_shown({4, way, false}, covered); };
  CHECK(off(Way::in).horizontal_deg > 0);
  CHECK(off(Way::out).horizontal_deg == -off(Way::in).horizontal_deg);
  CHECK(off(Way::up).vertical_deg < 0);
  CHECK(off(Way::down).vertical_deg == -off(Way::up).vertical_deg);
  CHECK(off(Way::up).horizontal_deg == 0);
}

TEST_CASE("drill: forty pairs take four minutes") {
  // So much is left for three answers to each, s.
  const double left_s = 240.0 / kPairs - kPairMs / 1000;
  CHECK(left_s > 2);
}
