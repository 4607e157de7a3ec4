// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// redress generate: each case what it claims to be, told as somebody of that age would, and unlike
// the one before; the same seed, the same cases, on however many threads.
#include <cmath>
#include <set>
#include <string>
#include <vector>

#include <catch2/catch.hpp>

#include "sim/cases/case_file.hpp"
#include "sim/program/generate.hpp"
#include "tests/cases/case_texts.hpp"

using namespace redress;
using namespace redress::testing;
using nlohmann::json;

namespace {

std::vector<json> generated(const std::string& diagnosis, double difficulty, std::uint64_t seed,
                            int count) {
  const auto cases = program::generate_cases(diagnosis, difficulty, seed, count);
  if (!cases) FAIL(listed(cases.problems()));
  return cases.value();
}

double pd(const json& value, const char* key) { return value["deviation"][key].get<double>(); }

}  // namespace

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

TEST_CASE("on two threads the cases are the same", "[program]") {
  for (const char* diagnosis : {"any", "convergence excess", "intermittent exotropia"}) {
    const auto alone = program::generate_cases(diagnosis, 0.5, 5, 6, 1);
    const auto together = program::generate_cases(diagnosis, 0.5, 5, 6, 2);
    REQUIRE(alone.ok());
    REQUIRE(together.ok());
    CHECK(alone.value() == together.value());
  }
}

TEST_CASE("cases are handed on one by one, and a refusal ends it", "[program]") {
  int kept = 0;
  const Problems problems = program::generate_each("exophoria", 0.5, 1, 10, 1, [&](const json&) {
    ++kept;
    return kept == 3 ? Problems{{"/disk", "is full"}} : Problems{};
  });
  CHECK(kept == 3);
  REQUIRE(problems.size() == 1);
  CHECK(problems[0].place == "/disk");
}

TEST_CASE("a story is told by somebody of that age and with that trouble", "[program]") {
  for (const json& value : generated("esotropia", 0.5, 9, 12)) {
    INFO(value.dump(2));
    const double age = value["patient"]["age_years"];
    const std::string title = value["title"];
    if (title.find("school") != std::string::npos) CHECK(age < 18.0);
    if (title.find("never treated") != std::string::npos) CHECK(age >= 18.0);
    CHECK(value["patient"]["answers"]["double_vision"].get<std::string>().rfind("No", 0) == 0);
    // A child's pupils are nearer than a grown-up's mean and 3 standard deviations.
    if (age <= 12.0) CHECK(value["patient"]["interpupillary_distance_mm"].get<double>() < 70.0);
  }
  for (const json& value : generated("convergence insufficiency", 0.5, 9, 4)) {
    const std::string tired = value["patient"]["answers"]["tired_eyes"];
    CHECK(tired.rfind("Yes", 0) == 0);
  }
  for (const json& value : generated("exophoria", 0.5, 9, 4)) {
    const std::string tired = value["patient"]["answers"]["tired_eyes"];
    CHECK(tired.rfind("Yes", 0) != 0);
  }
}

TEST_CASE("what is told of headaches does not contradict the story", "[program]") {
  int aching = 0;
  for (const json& value : generated("convergence excess", 0.5, 3, 12)) {
    const std::string story = value["patient"]["story"];
    const std::string headache = value["patient"]["answers"]["headache"];
    if (story.find("aches") == std::string::npos) continue;
    ++aching;
    CHECK(headache.rfind("No", 0) != 0);
  }
  CHECK(aching > 0);
}

TEST_CASE("a drawn case teaches as a written one does", "[program]") {
  for (const std::string_view diagnosis : program::generated_diagnoses()) {
    if (diagnosis == "any") continue;  // of people as they come nothing is expected
    INFO(diagnosis);
    const auto level = [&](double difficulty) {
      return generated(std::string(diagnosis), difficulty, 3, 1)[0]["teaching"]["level"].get<int>();
    };
    CHECK(level(0.25) == 2);
    CHECK(level(0.75) == 4);
    const json value = generated(std::string(diagnosis), 0.5, 3, 1)[0];
    const json& teaching = value["teaching"];
    CHECK(teaching["goal"].get<std::string>().size() > 10);
    // The list shows it beforehand.
    CHECK(teaching["goal"].get<std::string>().find("tropia") == std::string::npos);
    CHECK(teaching["goal"].get<std::string>().find("phoria") == std::string::npos);
    CHECK(teaching["different"].get<std::string>().size() > 40);
    CHECK(teaching["look_alikes"].size() == 2);
    CHECK(teaching["sources"].size() >= 1);
    CHECK(value["expected"]["plan"].size() >= 1);
    for (const json& question : teaching["key_questions"]) {
      CHECK(value["patient"]["answers"].contains(question.get<std::string>()));
    }
  }
}

TEST_CASE("an eye that always turned sees less than its fellow", "[program]") {
  for (const char* diagnosis : {"esotropia", "exotropia"}) {
    for (const json& value : generated(diagnosis, 0.5, 5, 6)) {
      const bool right = value["sensory"]["preferred_eye"] == "left";
      const json& refraction = value["refraction"];
      const double squints = refraction[right ? "right" : "left"]["acuity_logmar"];
      const double fixes = refraction[right ? "left" : "right"]["acuity_logmar"];
      CHECK(squints > fixes + 0.05);
      CHECK(squints <= 1.0);
    }
  }
}

TEST_CASE("one seed, two diagnoses: other people tell other stories", "[program]") {
  int alike = 0;
  const std::vector<json> one = generated("esotropia", 0.5, 21, 6);
  const std::vector<json> other = generated("exotropia", 0.5, 21, 6);
  for (std::size_t i = 0; i < one.size(); ++i) {
    const json& a = one[i]["patient"];
    const json& b = other[i]["patient"];
    alike += a["name"] == b["name"] ? 1 : 0;
  }
  CHECK(alike <= 1);
}

TEST_CASE("no two of a handful of intermittent ones are held alike", "[program]") {
  std::set<std::string> held;
  for (const json& value : generated("intermittent exotropia", 0.5, 21, 6)) {
    held.insert(value["fusion"].dump());
  }
  CHECK(held.size() >= 4);
}

TEST_CASE("numbers are written as somebody would write them", "[program]") {
  for (const std::string_view diagnosis : program::generated_diagnoses()) {
    for (const json& value : generated(std::string(diagnosis), 0.5, 21, 2)) {
      const std::string text = value["deviation"].dump() + value["refraction"].dump();
      INFO(text);
      CHECK(text.find("00000") == std::string::npos);
      CHECK(text.find("99999") == std::string::npos);
      CHECK(value["note"].get<std::string>().find("-0.0 ") == std::string::npos);
    }
  }
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
