// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Random draws: their distributions, that no draw depends on another, and the numbers that the
// record format rests on. Limits are stated in standard errors; the seeds are fixed.
#include "sim/basics/random.hpp"

#include <algorithm>
#include <array>
#include <catch2/catch.hpp>
#include <cmath>
#include <cstdint>
#include <utility>
#include <vector>

using namespace redress;

namespace {

constexpr int kDraws = 200000;

struct Moments {
  double mean = 0, variance = 0, skewness = 0, kurtosis = 0;
};

Moments moments_of(const std::vector<double>& values) {
  const double n = static_cast<double>(values.size());
  Moments m;
  for (const double v : values) m.mean += v / n;
  double third = 0;
  double fourth = 0;
  for (const double v : values) {
    const double d = v - m.mean;
    m.variance += d * d / n;
    third += d * d * d / n;
    fourth += d * d * d * d / n;
  }
  m.skewness = third / std::pow(m.variance, 1.5);
  m.kurtosis = fourth / (m.variance * m.variance);
  return m;
}

template <class Draw>
std::vector<double> draws_of(Draw draw) {
  std::vector<double> values;
  values.reserve(kDraws);
  for (std::uint64_t event = 0; event < kDraws; ++event) values.push_back(draw(event));
  return values;
}

double correlation(const std::vector<double>& a, const std::vector<double>& b) {
  const Moments ma = moments_of(a);
  const Moments mb = moments_of(b);
  double sum = 0;
  for (std::size_t i = 0; i < a.size(); ++i) sum += (a[i] - ma.mean) * (b[i] - mb.mean);
  return sum / static_cast<double>(a.size()) / std::sqrt(ma.variance * mb.variance);
}

/// Greatest distance between the empirical distribution and `cumulative` (Kolmogorov 1933).
template <class Cumulative>
double calc_distance(std::vector<double> values, Cumulative cumulative) {
  std::sort(values.begin(), values.end());
  const double n = static_cast<double>(values.size());
  double worst = 0;
  for (std::size_t i = 0; i < values.size(); ++i) {
    const double f = cumulative(values[i]);
    worst = std::max({worst, f - static_cast<double>(i) / n, static_cast<double>(i + 1) / n - f});
  }
  return worst;
}
// Exceeded once in ten thousand: sqrt(ln(2 / 0.0001) / 2) / sqrt(n).
const double kDistanceLimit = std::sqrt(std::log(2.0 / 0.0001) / 2.0 / kDraws);

// Five standard errors of a mean of n draws with this standard deviation.
double five_errors(double deviation) { return 5.0 * deviation / std::sqrt(double{kDraws}); }

}  // namespace

TEST_CASE("uniform draws lie from 0 up to 1 and are uniform") {
  const auto values = draws_of([](std::uint64_t e) { return random_uniform(1, Stream::drift, e); });
  REQUIRE(*std::min_element(values.begin(), values.end()) >= 0.0);
  REQUIRE(*std::max_element(values.begin(), values.end()) < 1.0);
  const Moments m = moments_of(values);
  REQUIRE(std::fabs(m.mean - 0.5) < five_errors(std::sqrt(1.0 / 12)));
  REQUIRE(std::fabs(m.variance - 1.0 / 12) < five_errors(std::sqrt(1.0 / 180)));
  REQUIRE(calc_distance(values, [](double x) { return x; }) < kDistanceLimit);
}

TEST_CASE("normal draws are normal") {
  for (const std::uint32_t part : {0U, 1U, 9U}) {
    const auto values = draws_of(
        [part](std::uint64_t e) { return random_normal(2, Stream::saccade_gain, e, part); });
    const Moments m = moments_of(values);
    REQUIRE(std::fabs(m.mean) < five_errors(1.0));
    REQUIRE(std::fabs(m.variance - 1.0) < five_errors(std::sqrt(2.0)));
    REQUIRE(std::fabs(m.skewness) < five_errors(std::sqrt(6.0)));
    REQUIRE(std::fabs(m.kurtosis - 3.0) < five_errors(std::sqrt(24.0)));
    REQUIRE(calc_distance(values, [](double x) { return 0.5 * std::erfc(-x / std::sqrt(2.0)); }) <
            kDistanceLimit);
    for (const double v : values) REQUIRE(std::isfinite(v));
  }
}

TEST_CASE("bounded draws have mean 0, variance 1 and never pass 3.4641") {
  const auto values = draws_of([](std::uint64_t e) { return random_bounded(3, Stream::drift, e); });
  const Moments m = moments_of(values);
  REQUIRE(std::fabs(m.mean) < five_errors(1.0));
  // The kurtosis of a sum of four uniforms is 3 - 1.2/4 = 2.7: the error of the variance follows.
  REQUIRE(std::fabs(m.variance - 1.0) < five_errors(std::sqrt(1.7)));
  REQUIRE(std::fabs(m.skewness) < five_errors(std::sqrt(6.0)));
  REQUIRE(m.kurtosis == Approx(2.7).margin(0.05));
  for (const double v : values) REQUIRE(std::fabs(v) <= 2.0 * std::sqrt(3.0));
}

TEST_CASE("a draw does not depend on what else was drawn, or when") {
  std::vector<std::uint64_t> forwards;
  std::vector<std::uint64_t> backwards(500);
  for (std::uint64_t e = 0; e < 500; ++e) forwards.push_back(random_bits(9, Stream::blink, e));
  for (std::uint64_t e = 500; e-- > 0;) {
    (void)random_normal(9, Stream::drift, e);  // others draw in between
    backwards[e] = random_bits(9, Stream::blink, e);
  }
  REQUIRE(forwards == backwards);
}

TEST_CASE("no two of a million keys share their bits") {
  // By chance two would agree once in 37 million such tables (n^2 / 2^65).
  std::vector<std::uint64_t> seen;
  const std::array<std::uint64_t, 5> seeds{0, 1, 2, (1ULL << 53) - 1, 0x8000000000000000ULL};
  for (const std::uint64_t seed : seeds) {
    for (std::uint32_t stream = 1; stream <= 20; ++stream) {
      for (std::uint64_t event = 0; event < 2500; ++event) {
        for (std::uint32_t part = 0; part < 4; ++part) {
          seen.push_back(random_bits(seed, static_cast<Stream>(stream), event, part));
        }
      }
    }
  }
  REQUIRE(seen.size() == 1000000);
  std::sort(seen.begin(), seen.end());
  REQUIRE(std::adjacent_find(seen.begin(), seen.end()) == seen.end());
}

TEST_CASE("neighbouring seeds, streams, events and parts are unrelated") {
  const auto base = draws_of([](std::uint64_t e) { return random_uniform(5, Stream::blink, e); });
  const auto check = [&base](const std::vector<double>& other) {
    REQUIRE(std::fabs(correlation(base, other)) < five_errors(1.0));
  };
  check(draws_of([](std::uint64_t e) { return random_uniform(6, Stream::blink, e); }));
  check(draws_of([](std::uint64_t e) { return random_uniform(5, Stream::attention, e); }));
  check(draws_of([](std::uint64_t e) { return random_uniform(5, Stream::blink, e, 1); }));
  for (const std::uint64_t lag : {1U, 2U, 16U, 1000U}) {
    check(draws_of([lag](std::uint64_t e) { return random_uniform(5, Stream::blink, e + lag); }));
  }
}

TEST_CASE("each of the 64 bits is a fair coin, and one bit of the key turns half of them") {
  std::array<int, 64> ones{};
  std::int64_t turned = 0;
  for (std::uint64_t e = 0; e < kDraws; ++e) {
    const std::uint64_t bits = random_bits(11, Stream::image_jump, e);
    for (std::size_t b = 0; b < 64; ++b) ones[b] += static_cast<int>((bits >> b) & 1U);
    const std::uint64_t other = random_bits(11 ^ (1ULL << (e % 53)), Stream::image_jump, e);
    turned += __builtin_popcountll(bits ^ other);
  }
  for (const int count : ones) {
    REQUIRE(std::fabs(count - kDraws / 2.0) < 5.0 * std::sqrt(kDraws / 4.0));
  }
  REQUIRE(std::fabs(static_cast<double>(turned) - 32.0 * kDraws) < 5.0 * std::sqrt(16.0 * kDraws));
}

TEST_CASE("the numbers of the streams are part of the record format") {
  const std::array<std::pair<Stream, std::uint32_t>, 14> numbers{{
      {Stream::person, 1},
      {Stream::saccade_latency, 2},
      {Stream::saccade_gain, 3},
      {Stream::fixation_choice, 4},
      {Stream::fixation_delay, 5},
      {Stream::drift, 6},
      {Stream::vergence_drift, 7},
      {Stream::blink, 8},
      {Stream::attention, 9},
      {Stream::image_jump, 10},
      {Stream::microsaccade, 11},
      {Stream::speech, 12},
      {Stream::examiner, 13},
      {Stream::gaze_wander, 14},
  }};
  for (const auto& [stream, number] : numbers) {
    REQUIRE(static_cast<std::uint32_t>(stream) == number);
  }
}

TEST_CASE("the bits themselves are part of the record format") {
  // Not values from outside: they pin what records were made with.
  REQUIRE(random_bits(1, Stream::person, 0) == 0x897deb208be4ccebULL);
  REQUIRE(random_bits(1, Stream::blink, 3, 2) == 0x63735a8d25b2a14dULL);
  REQUIRE(random_bits((1ULL << 53) - 1, Stream::gaze_wander, 1000000) == 0x6e8c0e014975e8f0ULL);
}
