// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Draws of chance against the distributions of Boost.Math, and the small statistics of the report
// against Boost's.
#include "sim/basics/random.hpp"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <vector>

#include <boost/math/distributions/chi_squared.hpp>
#include <boost/math/distributions/normal.hpp>
#include <boost/math/statistics/univariate_statistics.hpp>
#include <catch2/catch.hpp>

#include "sim/evidence/bench.hpp"
#include "sim/evidence/saccades.hpp"

using namespace redress;

namespace {

constexpr int kDraws = 20000;
// With fixed seeds a p value does not change; one below this would be a fault of the draws.
constexpr double kLeastP = 0.001;

double p_value(const std::vector<int>& drawers, int total, int fitted) {
  const double expected = static_cast<double>(total) / static_cast<double>(drawers.size());
  double sum = 0;
  for (const int n : drawers) sum += (n - expected) * (n - expected) / expected;
  const boost::math::chi_squared chi(static_cast<double>(drawers.size()) - 1.0 - fitted);
  return boost::math::cdf(boost::math::complement(chi, sum));
}

// Drawers that a normal distribution fills evenly; `fitted`: parameters taken from the sample.
double normal_p_value(const std::vector<double>& values, double mean, double sd, std::size_t count,
                      int fitted) {
  const boost::math::normal normal(mean, sd);
  std::vector<int> drawers(count, 0);
  for (const double v : values) {
    const double at = boost::math::cdf(normal, v) * static_cast<double>(count);
    ++drawers[std::min(static_cast<std::size_t>(at), count - 1)];
  }
  return p_value(drawers, static_cast<int>(values.size()), fitted);
}

}  // namespace

TEST_CASE("normal draws follow Boost's normal distribution") {
  std::vector<double> values;
  for (std::uint64_t i = 0; i < kDraws; ++i) values.push_back(random_normal(3, Stream::person, i));
  CHECK(normal_p_value(values, 0, 1, 100, 0) > kLeastP);
  CHECK(normal_p_value(values, 0.05, 1, 100, 0) < kLeastP);  // and the test sees a shift
}

TEST_CASE("uniform draws fill a hundred drawers evenly, by Boost's chi-squared") {
  std::vector<int> drawers(100, 0);
  for (std::uint64_t i = 0; i < kDraws; ++i) {
    ++drawers[static_cast<std::size_t>(100.0 * random_uniform(3, Stream::person, i))];
  }
  CHECK(p_value(drawers, kDraws, 0) > kLeastP);
  CHECK(p_value(drawers, kDraws, 0) < 1.0 - kLeastP);  // nor too even
}

TEST_CASE("mean, spread and middle of the report's figures are Boost's") {
  namespace statistics = boost::math::statistics;
  std::vector<double> latencies = evidence::collect_latencies();
  REQUIRE(latencies.size() > 100);
  const auto [mean, variance] = statistics::mean_and_sample_variance(latencies);
  CHECK(evidence::calc_mean(latencies) == Approx(mean).epsilon(1e-12));
  CHECK(evidence::calc_sd(latencies) == Approx(std::sqrt(variance)).epsilon(1e-12));
  latencies.resize(latencies.size() - (latencies.size() + 1) % 2);  // an odd number has one middle
  CHECK(evidence::calc_median(latencies) == statistics::median(latencies));
}

TEST_CASE("reciprocal latencies pass for normal by Boost's chi-squared") {
  // Carpenter & Williams 1995. Mean and SD are the sample's own: two degrees of freedom fewer.
  std::vector<double> rates;
  for (const double ms : evidence::collect_latencies()) rates.push_back(1000.0 / ms);
  CHECK(normal_p_value(rates, evidence::calc_mean(rates), evidence::calc_sd(rates), 12, 2) > 0.01);
}
