// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Intervals and agreement, against Boost.Math, published examples and each other.
#include <catch2/catch.hpp>

#include <boost/math/distributions/binomial.hpp>
#include <boost/math/distributions/normal.hpp>
#include <boost/math/distributions/students_t.hpp>
#include <cmath>
#include <vector>

#include "sim/basics/random.hpp"
#include "sim/progress/skills.hpp"
#include "sim/progress/statistics.hpp"

using namespace redress;
using namespace redress::progress;

TEST_CASE("Wilson: both ends solve the score equation with the normal quantile of Boost") {
  const double z = boost::math::quantile(boost::math::normal(), 0.975);
  for (const std::size_t n : {1U, 2U, 9U, 10U, 37U, 212U}) {
    for (std::size_t k = 0; k <= n; ++k) {
      const Interval w = calc_wilson(k, n);
      const double p = static_cast<double>(k) / static_cast<double>(n);
      // (p - end)^2 = z^2 end (1 - end) / n, at the ends that are not the scale's own.
      for (const double end : {w.low, w.high}) {
        if (end <= 0 || end >= 1) continue;
        CHECK(std::pow(p - end, 2) ==
              Approx(z * z * end * (1 - end) / static_cast<double>(n)).margin(1e-12));
      }
      CHECK(w.value == p);
      CHECK(w.low <= p);
      CHECK(w.high >= p);
    }
  }
}

TEST_CASE("Wilson: the worked example of Newcombe 1998") {
  // Statistics in Medicine 17, 857-872, table I, method 3 (from memory): 81 of 263 is
  // 0.2553 to 0.3662; 0 of 20 is 0 to 0.1611.
  const Interval many = calc_wilson(81, 263);
  CHECK(many.low == Approx(0.2553).margin(5e-5));
  CHECK(many.high == Approx(0.3662).margin(5e-5));
  const Interval none = calc_wilson(0, 20);
  CHECK(none.low == 0);
  CHECK(none.high == Approx(0.1611).margin(5e-5));
}

TEST_CASE("Wilson: the interval holds the true share about as often as it says") {
  // Averaged over shares; by Boost's binomial, exactly.
  constexpr int kChances = 30;
  double held = 0;
  int shares = 0;
  for (double p = 0.05; p < 0.96; p += 0.01, ++shares) {
    const boost::math::binomial draws(kChances, p);
    for (int k = 0; k <= kChances; ++k) {
      const Interval w = calc_wilson(static_cast<std::size_t>(k), kChances);
      if (w.low <= p && p <= w.high) held += boost::math::pdf(draws, k);
    }
  }
  CHECK(held / shares == Approx(0.95).margin(0.01));
}

TEST_CASE("Student's t against Boost") {
  for (std::size_t n = 1; n <= 400; ++n) {
    const boost::math::students_t t(static_cast<double>(n));
    INFO(n);
    CHECK(student_t_975(n) == Approx(boost::math::quantile(t, 0.975)).margin(0.003));
  }
}

TEST_CASE("Bland and Altman: bias, limits and their intervals") {
  // Their own data of 1986, large meter against mini meter, l/min (from memory): bias -2.1,
  // SD 38.8, limits -79.7 and 75.5 with 2 SD; SE of the bias 9.4.
  const std::vector<double> large{494, 395, 516, 434, 476, 557, 413, 442, 650,
                                  433, 417, 656, 267, 478, 178, 423, 427};
  const std::vector<double> mini{512, 430, 520, 428, 500, 600, 364, 380, 658,
                                 445, 432, 626, 260, 477, 259, 350, 451};
  std::vector<Judged> pairs;
  for (std::size_t i = 0; i < large.size(); ++i) pairs.push_back({mini[i], large[i]});
  const auto found = calc_agreement(pairs);
  REQUIRE(found);
  CHECK(found->count == 17);
  CHECK(found->bias.value == Approx(-2.1).margin(0.05));
  CHECK(found->sd_pd == Approx(38.8).margin(0.05));
  const double t = boost::math::quantile(boost::math::students_t(16), 0.975);
  CHECK(found->bias.high - found->bias.value == Approx(t * 9.4).margin(0.2));
  CHECK(found->lower_limit.value == Approx(-2.1 - 1.96 * 38.8).margin(0.2));
  CHECK(found->upper_limit.value == Approx(-2.1 + 1.96 * 38.8).margin(0.2));
  // "The 95 % interval for the lower limit is -114.3 to -45.1": theirs with 2 SD and t = 2.12.
  CHECK(found->lower_limit.low == Approx(-114.3).margin(2.0));
  CHECK(found->lower_limit.high == Approx(-45.1).margin(4.0));
}

TEST_CASE("a habit that is known is found again") {
  // Small ones too large, large ones too small: said = 1.2 + 0.85 true, with scatter.
  std::vector<Judged> answers;
  for (std::uint64_t i = 0; i < 200; ++i) {
    const double size = 1 + 18 * random_uniform(5, Stream::person, i);
    answers.push_back({size, 1.2 + 0.85 * size + 0.8 * random_normal(5, Stream::examiner, i)});
  }
  const auto found = calc_agreement(answers);
  REQUIRE(found);
  CHECK(found->slope == Approx(0.85).margin(0.03));
  CHECK(found->intercept_pd == Approx(1.2).margin(0.3));
  CHECK(found->calc_excess(2) == Approx(1.2 - 0.15 * 2).margin(0.3));
  CHECK(found->calc_excess(15) < 0);
}

TEST_CASE("agreement: too few answers, or all of one size, tell nothing") {
  CHECK_FALSE(calc_agreement(std::vector<Judged>{{1, 2}, {3, 4}}));
  CHECK_FALSE(calc_agreement(std::vector<Judged>{{2, 1}, {2, 2}, {2, 3}}));
}

namespace {

ExaminationEntry examined(std::int64_t at_s, bool taken, bool known = false) {
  ExaminationEntry e;
  e.at_s = at_s;
  e.known = known;
  e.marks = {{"B2", taken ? 6.0 : 3.0, 6.0}, {"D1", taken ? 8.0 : 0.0, 8.0}, {"C3", 0.0, 0.0}};
  return e;
}

const Skill& find_skill(const std::vector<Skill>& skills, std::string_view item) {
  for (const Skill& each : skills) {
    if (each.item == item) return each;
  }
  throw std::runtime_error("no such item");
}

}  // namespace

TEST_CASE("skills: eight chances are a few, nine of nine are firm, and old ones do not count") {
  constexpr std::int64_t kNow = 1'800'000'000;
  std::vector<ExaminationEntry> done;
  for (int i = 0; i < 8; ++i) done.push_back(examined(kNow - i, true));
  CHECK(find_skill(calc_skills(done, kNow), "B2").firmness == Firmness::few);
  done.push_back(examined(kNow - 61 * 86'400LL, true));
  CHECK(find_skill(calc_skills(done, kNow), "B2").chances == 8);
  done.push_back(examined(kNow - 59 * 86'400LL, true));
  CHECK(find_skill(calc_skills(done, kNow), "B2").firmness == Firmness::firm);
  done.push_back(examined(kNow - 10, false));
  CHECK(find_skill(calc_skills(done, kNow), "B2").firmness == Firmness::not_yet);
  CHECK(find_skill(calc_skills(done, kNow), "B2").taken == 9);
  // What a case does not need is no chance.
  CHECK(find_skill(calc_skills(done, kNow), "C3").chances == 0);
  CHECK(find_skill(calc_skills(done, kNow), "C3").firmness == Firmness::few);
}

TEST_CASE("skills: what was told beforehand is no finding any more") {
  constexpr std::int64_t kNow = 1'800'000'000;
  const std::vector<ExaminationEntry> done{examined(kNow, true, true), examined(kNow, true)};
  const std::vector<Skill> skills = calc_skills(done, kNow);
  CHECK(find_skill(skills, "B2").chances == 2);
  CHECK(find_skill(skills, "D1").chances == 1);
  CHECK(skills.size() == 23);
  for (std::size_t i = 0; i < skills.size(); ++i) CHECK(skills[i].words.empty() == (i >= 10));
}
