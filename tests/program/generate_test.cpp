// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// redress generate: people as they come against published means and spreads; each case what it
// claims to be and unlike the one before; the same seed, the same cases.
#include <cmath>
#include <string>
#include <vector>

#include <catch2/catch.hpp>

#include "sim/cases/case_file.hpp"
#include "sim/program/generate.hpp"
#include "tests/cases/case_texts.hpp"

using namespace redress;
using namespace redress::testing;
using nlohmann::json;
using program::DrawnPerson;

namespace {

struct Moments {
  double mean = 0.0;
  double sd = 0.0;
};

template <class Value>
Moments moments_of(const std::vector<DrawnPerson>& people, Value value) {
  Moments m;
  for (const DrawnPerson& p : people) m.mean += value(p);
  m.mean /= static_cast<double>(people.size());
  for (const DrawnPerson& p : people) m.sd += std::pow(value(p) - m.mean, 2);
  m.sd = std::sqrt(m.sd / static_cast<double>(people.size() - 1));
  return m;
}

std::vector<json> generated(const std::string& diagnosis, double difficulty, std::uint64_t seed,
                            int count) {
  const auto cases = program::generate_cases(diagnosis, difficulty, seed, count);
  if (!cases) FAIL(listed(cases.problems()));
  return cases.value();
}

double pd(const json& value, const char* key) { return value["deviation"][key].get<double>(); }

}  // namespace

TEST_CASE("people drawn have published means and spreads", "[program]") {
  std::vector<DrawnPerson> people;
  for (std::uint64_t i = 0; i < 4000; ++i) people.push_back(program::draw_person(7, i));
  // Morgan 1944: distance 1 exo, SD 2. Standard error of the mean 0.03: six of them allowed.
  const Moments distance = moments_of(people, [](const auto& p) { return p.distance_pd; });
  CHECK(std::abs(distance.mean + 1.0) < 0.2);
  CHECK(std::abs(distance.sd - 2.0) < 0.2);
  // Near: Morgan 3 exo, SD 5; a later series 3.8, SD 4.8 from memory. It is computed, not
  // drawn: it lies with the two.
  const Moments near = moments_of(people, [](const auto& p) { return p.near_pd; });
  CHECK(near.mean > -4.1);
  CHECK(near.mean < -2.7);
  CHECK(near.sd > 4.4);
  CHECK(near.sd < 5.2);
  // Dodgson 2004: adult interpupillary distance 63.4 mm, SD 3.8.
  const Moments pupils = moments_of(people, [](const auto& p) { return p.interpupillary_mm; });
  CHECK(std::abs(pupils.mean - 63.4) < 0.4);
  CHECK(std::abs(pupils.sd - 3.8) < 0.3);
  const Moments ac_a = moments_of(people, [](const auto& p) { return p.ac_a_pd_per_d; });
  CHECK(std::abs(ac_a.mean - 4.0) < 0.2);
}

TEST_CASE("each diagnosis can be drawn, valid without warning, near computed", "[program]") {
  for (const std::string_view diagnosis : program::generated_diagnoses()) {
    INFO(diagnosis);
    const std::vector<json> cases = generated(std::string(diagnosis), 0.5, 3, 2);
    REQUIRE(cases.size() == 2);
    for (const json& value : cases) {
      const Result<Case> read = parse_case(value);
      if (!read) FAIL(listed(read.problems()));
      Problems warnings;
      CHECK(check_meaning(read.value(), &warnings).empty());
      CHECK(warnings.empty());
      CHECK(value["patient"]["answers"].size() >= 5);
    }
  }
}

TEST_CASE("neighbours differ, and the same seed draws the same cases", "[program]") {
  const std::vector<json> cases = generated("exophoria", 0.5, 11, 5);
  for (std::size_t i = 1; i < cases.size(); ++i) {
    CHECK(cases[i]["patient"]["name"] != cases[i - 1]["patient"]["name"]);
    CHECK(cases[i]["title"] != cases[i - 1]["title"]);
    CHECK(std::abs(pd(cases[i], "distance_pd") - pd(cases[i - 1], "distance_pd")) +
              std::abs(pd(cases[i], "near_pd") - pd(cases[i - 1], "near_pd")) >=
          1.0);
  }
  CHECK(generated("exophoria", 0.5, 11, 5) == cases);
  CHECK(generated("exophoria", 0.5, 12, 5) != cases);
  // More of them begin with the same ones.
  const std::vector<json> more = generated("exophoria", 0.5, 11, 7);
  CHECK(std::vector<json>(more.begin(), more.begin() + 5) == cases);
}

TEST_CASE("harder is smaller", "[program]") {
  const auto size = [](double difficulty) {
    double sum = 0.0;
    for (const json& value : generated("esotropia", difficulty, 5, 4)) {
      sum += std::abs(pd(value, "distance_pd"));
    }
    return sum / 4.0;
  };
  const double easy = size(0.0);
  const double hard = size(1.0);
  INFO(easy << " and " << hard);
  CHECK(easy > hard + 10.0);
}

TEST_CASE("a diagnosis that nobody draws is refused with what is allowed", "[program]") {
  const auto cases = program::generate_cases("hiccups", 0.5, 1, 1);
  REQUIRE_FALSE(cases.ok());
  REQUIRE(cases.problems().size() == 1);
  CHECK(cases.problems()[0].place == "/diagnosis");
  CHECK(cases.problems()[0].message.find("\"hiccups\"; allowed: any, no deviation") !=
        std::string::npos);
}
