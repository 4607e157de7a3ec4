// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// People as they are drawn against published means and spreads. The statistic beside each: with n
// people a mean has the standard error SD / sqrt n and a spread SD / sqrt (2 n); four of them, and
// what rounding and limits move (stated), are allowed.
#include "sim/program/generated_people.hpp"

#include <cmath>
#include <functional>
#include <vector>

#include <catch2/catch.hpp>

#include "sim/cases/defaults.hpp"
#include "sim/cases/proximal.hpp"

using namespace redress;
using program::DrawnPerson;
using program::DrawnReserve;

namespace {

constexpr std::size_t kPeople = 4000;

struct Moments {
  double mean = 0.0;
  double sd = 0.0;
};

using Value = std::function<double(const DrawnPerson&)>;

const std::vector<DrawnPerson>& people() {
  static const std::vector<DrawnPerson> kDrawn = [] {
    std::vector<DrawnPerson> all;
    for (std::uint64_t i = 0; i < kPeople; ++i) all.push_back(program::draw_person(7, i));
    return all;
  }();
  return kDrawn;
}

Moments moments_of(const Value& value) {
  Moments m;
  for (const DrawnPerson& p : people()) m.mean += value(p);
  m.mean /= static_cast<double>(kPeople);
  for (const DrawnPerson& p : people()) m.sd += std::pow(value(p) - m.mean, 2);
  m.sd = std::sqrt(m.sd / static_cast<double>(kPeople - 1));
  return m;
}

// `limits`: by how much rounding and the limits of the draw may move either.
void check_published(const char* what, double mean, double sd, double limits, const Value& value) {
  const Moments m = moments_of(value);
  const double n = static_cast<double>(kPeople);
  INFO(what << ": drawn " << m.mean << ", SD " << m.sd << "; published " << mean << ", SD " << sd);
  CHECK(std::abs(m.mean - mean) < 4.0 * sd / std::sqrt(n) + limits);
  CHECK(std::abs(m.sd - sd) < 4.0 * sd / std::sqrt(2.0 * n) + limits);
}

}  // namespace

TEST_CASE("phoria, AC over A and pupils as published", "[program]") {
  // Morgan 1944, as tabled by Scheiman & Wick; cut at -8 and 6, 0.5 and 9.
  check_published("distance", -1.0, 2.0, 0.05, [](const auto& p) { return p.distance_pd; });
  check_published("AC/A", 4.0, 2.0, 0.15, [](const auto& p) { return p.ac_a_pd_per_d; });
  // Dodgson 2004, adults; cut at 52 and 74.
  check_published("pupils", 63.4, 3.8, 0.1, [](const auto& p) { return p.interpupillary_mm; });
}

TEST_CASE("near is computed and lies with what is published of it", "[program]") {
  // Morgan 1944: 3 exo. Makgaba 2006, 475 adults: 3.84 exo, SD 4.80. The two differ by 0.84; the
  // mean has to lie between them or beyond by no more than half of that.
  const Moments near = moments_of([](const auto& p) { return p.near_pd; });
  INFO(near.mean << ", SD " << near.sd);
  CHECK(near.mean < -3.0 + 0.42);
  CHECK(near.mean > -3.84 - 0.42);
  CHECK(std::abs(near.sd - 4.80) < 0.48);  // a tenth
  // Proximal vergence is not fitted to it: Morgan's mean patient has this much.
  const double morgan = proximal_pd_at_40cm(make_healthy_case());
  const Moments proximal = moments_of([](const auto& p) { return p.proximal_pd; });
  INFO(morgan << " and " << proximal.mean);
  CHECK(std::abs(proximal.mean - morgan) < 0.5);
}

TEST_CASE("acuity by age as published", "[program]") {
  // Elliott, Yang & Whitaker 1995: logMAR -0.13 from 18 to 24, -0.16 from 25 to 29; SD 0.06 to 0.08
  // (from memory).
  const auto mean_of = [](double from, double to) {
    double sum = 0.0;
    int count = 0;
    for (const DrawnPerson& p : people()) {
      if (p.age_years < from || p.age_years > to) continue;
      sum += 0.5 * (p.acuity_logmar.right + p.acuity_logmar.left);
      ++count;
    }
    REQUIRE(count > 400);
    return sum / count;
  };
  CHECK(mean_of(18, 24) == Approx(-0.13).margin(0.015));
  CHECK(mean_of(25, 29) == Approx(-0.16).margin(0.015));
  const Moments right = moments_of([](const auto& p) { return p.acuity_logmar.right; });
  CHECK(right.sd > 0.06);
  CHECK(right.sd < 0.085);
  // Lovie-Kitchin 2002: 0.03 from 7 to 10.
  double sum = 0.0;
  for (DrawnPerson p : people()) {
    program::set_age(p, 8.0);
    sum += p.acuity_logmar.right;
  }
  CHECK(sum / static_cast<double>(kPeople) == Approx(0.03).margin(0.015));
}

TEST_CASE("reserves as published", "[program]") {
  // Morgan 1944, as tabled by Scheiman & Wick. Whole prism dioptres; a blur or a recovery is no
  // larger than the break, which takes from the spread of what is near it.
  struct Row {
    const char* what;
    DrawnReserve DrawnPerson::*reserve;
    double DrawnReserve::*part;
    double mean, sd, limits;
  };
  const std::vector<Row> rows{
      {"distance base out, blur", &DrawnPerson::distance_base_out, &DrawnReserve::blur_pd, 9, 4,
       0.5},
      {"distance base out, break", &DrawnPerson::distance_base_out, &DrawnReserve::break_pd, 19, 8,
       0.3},
      {"distance base out, recovery", &DrawnPerson::distance_base_out, &DrawnReserve::recovery_pd,
       10, 4, 0.6},
      {"distance base in, break", &DrawnPerson::distance_base_in, &DrawnReserve::break_pd, 7, 3,
       0.3},
      {"distance base in, recovery", &DrawnPerson::distance_base_in, &DrawnReserve::recovery_pd, 4,
       2, 0.3},
      {"near base out, blur", &DrawnPerson::near_base_out, &DrawnReserve::blur_pd, 17, 5, 0.8},
      {"near base out, break", &DrawnPerson::near_base_out, &DrawnReserve::break_pd, 21, 6, 0.3},
      {"near base out, recovery", &DrawnPerson::near_base_out, &DrawnReserve::recovery_pd, 11, 7,
       0.8},
      {"near base in, blur", &DrawnPerson::near_base_in, &DrawnReserve::blur_pd, 13, 4, 0.3},
      {"near base in, break", &DrawnPerson::near_base_in, &DrawnReserve::break_pd, 21, 4, 0.3},
      {"near base in, recovery", &DrawnPerson::near_base_in, &DrawnReserve::recovery_pd, 13, 5,
       0.4}};
  for (const Row& row : rows) {
    check_published(row.what, row.mean, row.sd, row.limits,
                    [&](const auto& p) { return p.*(row.reserve).*(row.part); });
  }
  for (const DrawnPerson& p : people()) {
    for (const DrawnReserve* r :
         {&p.distance_base_out, &p.distance_base_in, &p.near_base_out, &p.near_base_in}) {
      REQUIRE(r->break_pd >= 1.0);
      REQUIRE(r->recovery_pd <= r->break_pd);
      REQUIRE(r->blur_pd <= r->break_pd);
    }
  }
}

TEST_CASE("half of the people drawn are women, and pupils of children are nearer", "[program]") {
  int women = 0;
  for (const DrawnPerson& p : people()) women += p.female ? 1 : 0;
  // Standard error 0.8 %.
  CHECK(std::abs(static_cast<double>(women) / static_cast<double>(kPeople) - 0.5) < 0.032);
  // 50 to 58 mm from 4 to 12 years (clinical notes).
  double at_four = 0.0;
  double at_twelve = 0.0;
  for (DrawnPerson p : people()) {
    program::set_age(p, 12.0);
    at_twelve += p.interpupillary_mm / static_cast<double>(kPeople);
    program::set_age(p, 4.0);
    at_four += p.interpupillary_mm / static_cast<double>(kPeople);
  }
  CHECK(at_four == Approx(50.0).margin(0.6));
  CHECK(at_twelve == Approx(58.0).margin(0.6));
}
