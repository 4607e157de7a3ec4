// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Weights as data: the shipped file is the built-in rubric; another one marks otherwise; what is
// wrong with a file is said with place, value and what is allowed. People's ratings stand beside.
#include <catch2/catch.hpp>

#include <fstream>
#include <iterator>
#include <string>

#include "sim/scoring/global_rating.hpp"
#include "sim/scoring/rubric_file.hpp"
#include "sim/scoring/score.hpp"
#include "tests/support/places.hpp"
#include "tests/support/story.hpp"

using namespace redress;
using namespace redress::scoring;
using namespace redress::tests;

namespace {

std::string read_text(const std::string& path) {
  std::ifstream file(support::source_dir() + path, std::ios::binary);
  REQUIRE(file);
  return {std::istreambuf_iterator<char>(file), std::istreambuf_iterator<char>()};
}

std::string all_problems(const std::string& text) {
  const auto read = read_rubric_text(text);
  REQUIRE_FALSE(read.ok());
  std::string all;
  for (const Problem& p : read.problems()) all += p.place + ": " + p.message + "\n";
  return all;
}

}  // namespace

TEST_CASE("rubric file: the shipped one is the built-in one", "[scoring]") {
  const auto read = read_rubric_text(read_text("/assets/rubrics/default.json"));
  REQUIRE(read.ok());
  CHECK(to_json(read.value()) == to_json(make_default_rubric()));
  const auto again = read_rubric_text(to_json(read.value()).dump());
  REQUIRE(again.ok());
  CHECK(to_json(again.value()) == to_json(read.value()));
}

TEST_CASE("rubric file: what is wrong is said where it is", "[scoring]") {
  nlohmann::json rubric = nlohmann::json::parse(read_text("/assets/rubrics/default.json"));
  nlohmann::json wrong = rubric;
  wrong["weights"]["B2"]["P"] = 9;
  CHECK(all_problems(wrong.dump()) == "/weights: column P comes to 103; allowed: 100\n");
  wrong = rubric;
  wrong["weights"].erase("G3");
  CHECK(all_problems(wrong.dump()).find("/weights/G3: ") == 0);
  wrong = rubric;
  wrong["weights"]["H1"] = {{"P", 0}, {"O", 0}};
  CHECK(all_problems(wrong.dump()).find("/weights/H1: ") == 0);
  wrong = rubric;
  wrong["weights"]["A1"]["O"] = -1;
  CHECK(all_problems(wrong.dump()).find("/weights/A1/O: ") == 0);
  wrong = rubric;
  wrong["version"] = 2;
  CHECK(all_problems(wrong.dump()).find("newer version (2; this one reads 1)") !=
        std::string::npos);
  CHECK_FALSE(all_problems("{").empty());
  CHECK_FALSE(all_problems("[]").empty());
}

TEST_CASE("rubric file: the weights decide, and the pass mark the cap", "[scoring]") {
  // All the marks on the length of covers: whoever covers for long enough has them all.
  Rubric rubric = make_default_rubric();
  rubric.formative.fill(0.0);
  rubric.formative[static_cast<std::size_t>(Item::b2)] = 100.0;
  const Case c = case_with_deviation(-6, -9);
  const ExaminationSetup setup = setup_of(c);
  const truth::Truth truth = truth::calc_truth(setup, {}, {false, false, false});
  const auto total = [&](Tick cover_ms, Column column) {
    std::vector<Act> acts{show(0, 6.0)};
    Tick t = 3000;
    for (const Eye eye : {Eye::right, Eye::left, Eye::right, Eye::left}) {
      acts.push_back(cover(t, eye));
      acts.push_back(uncover(t + cover_ms));
      t += cover_ms + 4000;
    }
    return calc_score(c, setup, acts, Chance{1, 0.0, true}, t, truth, column, rubric).total;
  };
  CHECK(total(5000, Column::formative) == 100.0);
  CHECK(total(1000, Column::formative) == 0.0);
  CHECK(total(5000, Column::station) < 30.0);  // the other column is as it was
}

TEST_CASE("ratings by people are read and told, and nothing is added", "[scoring]") {
  const auto read = read_ratings_text(R"({"format": "redress-ratings", "version": 1, "ratings": [
    {"rating": "borderline", "by": "assessor 2"},
    {"rating": "pass", "by": "assessor 5", "remark": "slow, but sure"}]})");
  REQUIRE(read.ok());
  REQUIRE(read.value().size() == 2);
  CHECK(read.value()[0].rating == Rating::borderline);
  CHECK(to_json(read.value())[1]["remark"] == "slow, but sure");
  const auto wrong = read_ratings_text(
      R"({"format": "redress-ratings", "version": 1, "ratings": [{"rating": "fine", "by": "x"}]})");
  REQUIRE_FALSE(wrong.ok());
  CHECK(wrong.problems()[0].place == "/ratings/0/rating");
}
