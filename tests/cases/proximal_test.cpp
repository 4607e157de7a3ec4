// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Tonic and proximal vergence from the typed deviations, against the equations written out again
// with the C library.
#include "sim/cases/proximal.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <vector>

#include "sim/cases/case_file.hpp"
#include "sim/cases/defaults.hpp"

using namespace redress;

namespace {

constexpr double kDegrees = 180.0 / 3.14159265358979323846;

struct Row {
  int number;
  double age, ipd_mm, distance_pd, near_pd, ac_a;
};

// Comitant teaching cases, deviations as constructed; their proximal term was chosen between 0 and
// 6.5 prism dioptres with the demand taken 27 mm farther away.
const std::vector<Row> kComitant{
    {1, 22, 62, -1, -3, 4},     {2, 19, 62, 0, 0, 5},       {7, 26, 62, -7, -9, 4},
    {8, 21, 62, -1, -9, 2},     {10, 17, 62, -1, -5, 3},    {11, 19, 62, 1, 8, 7},
    {12, 20, 62, 7, 8, 4.5},    {15, 22, 62, 0, -2, 4},     {28, 7, 56, 25, 25, 4},
    {29, 12, 58, 30, 30, 4},    {34, 6, 54, -25, -18, 6},   {37, 30, 62, -10, -20, 1}};

Case case_of(const Row& row) {
  Case the_case = make_healthy_case();
  the_case.patient.age_years = row.age;
  the_case.patient.interpupillary_distance = Millimetres{row.ipd_mm};
  the_case.deviation.distance = PrismDioptres{row.distance_pd};
  the_case.deviation.near = PrismDioptres{row.near_pd};
  the_case.deviation.ac_a_pd_per_d = row.ac_a;
  return the_case;
}

}  // namespace

TEST_CASE("both typed deviations come out of the solved tonus") {
  for (const Row& row : kComitant) {
    INFO("case " << row.number);
    const patient::Tonus tonus = solve_tonus(case_of(row));
    const auto deviation_pd = [&](double distance_m) {
      const double accommodation = std::min(
          std::max(0.75 + 0.85 * (1.0 / (distance_m - 0.0135) - 0.75), 0.0), 18.5 - 0.3 * row.age);
      const double vergence = tonus.tonic_deg + tonus.ac_a_deg_per_d * accommodation +
                              tonus.proximal_deg_per_d / distance_m;
      const double demand = 2.0 * std::atan(row.ipd_mm / 2000.0 / distance_m) * kDegrees;
      return 100.0 * std::tan((vergence - demand) / kDegrees);
    };
    CHECK(deviation_pd(6.0) == Approx(row.distance_pd).margin(1e-9));
    CHECK(deviation_pd(0.4) == Approx(row.near_pd).margin(1e-9));
  }
}

TEST_CASE("ordinary cases leave an ordinary proximal term and no warning") {
  for (const Row& row : kComitant) {
    INFO("case " << row.number);
    const double proximal = proximal_pd_at_40cm(case_of(row));
    CHECK(proximal > 0.0);
    CHECK(proximal < 8.0);
    Problems warnings;
    CHECK(check_meaning(case_of(row), &warnings).empty());
    CHECK(warnings.empty());
  }
}

TEST_CASE("one prism dioptre more at near is one more of proximal vergence, nearly") {
  Case the_case = make_healthy_case();
  const double before = proximal_pd_at_40cm(the_case);
  the_case.deviation.near = PrismDioptres{-2};
  // The term falls off as 1/d: 6 m keeps 1/15 of it, which tonus makes up for. "Nearly", because a
  // label of AC/A is a little larger an angle at 2 than at 3.
  CHECK(proximal_pd_at_40cm(the_case) - before == Approx(15.0 / 14.0).margin(0.01));
}

TEST_CASE("amplitude of accommodation after Hofstetter 1950, mean") {
  CHECK(calc_amplitude_d(20) == Approx(12.5));
  CHECK(calc_amplitude_d(45) == Approx(5.0));
  CHECK(calc_amplitude_d(60) == 0.5);
  CHECK(calc_amplitude_d(99) == 0.5);
  // What is left at 60 is depth of focus: nothing moves any more.
  CHECK(calc_response_limit_d(45) == calc_amplitude_d(45));
  CHECK(calc_response_limit_d(55) == Approx(1.75));
  CHECK(calc_response_limit_d(60) == 0.0);
  // A presbyope at near gives what there is and no more.
  CHECK(calc_accommodation_d(0.4, 56) == Approx(1.4));
  CHECK(calc_accommodation_d(0.4, 62) == 0.0);
}

TEST_CASE("accommodation leads at distance and lags at near") {
  CHECK(calc_accommodation_d(6.0, 23) == Approx(0.25450).margin(1e-4));  // demand 0.16704
  CHECK(calc_accommodation_d(0.4, 23) == Approx(2.31168).margin(1e-4));  // demand 2.58732
}

TEST_CASE("the response AC/A is the stimulus AC/A over the slope of the response") {
  Case the_case = make_healthy_case();
  the_case.deviation.ac_a_pd_per_d = 6;
  // In degrees per dioptre of response, at the near deviation of 3 exo: a label is 100 tan(angle),
  // so one more label there is 0.5729578 / (1 + 0.03^2) degrees.
  CHECK(solve_tonus(the_case).ac_a_deg_per_d * 0.85 == Approx(6 * 0.5729578 / 1.0009));
}
