// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// A department's own words for the four steps of urgency, as data.
#include <catch2/catch.hpp>

#include <fstream>
#include <iterator>
#include <string>

#include "sim/findings/department.hpp"
#include "tests/support/places.hpp"

using namespace redress;
using namespace redress::findings;

TEST_CASE("a department's code: the shipped examples say that they are examples", "[findings]") {
  for (const char* name : {"example_colours", "example_numbers"}) {
    std::ifstream file(support::source_dir() + "/assets/departments/" + name + ".json");
    const std::string text{std::istreambuf_iterator<char>(file), std::istreambuf_iterator<char>()};
    const auto read = read_department_text(text);
    REQUIRE(read.ok());
    CHECK(read.value().example);
    CHECK_FALSE(read.value().code_of(Urgency::same_day).empty());
    CHECK(read.value().code_of(Urgency::same_day) != read.value().code_of(Urgency::urgent));
    CHECK_FALSE(read.value().words_of(Driving::not_until_controlled).empty());
  }
}

TEST_CASE("a department's code: a step left out is said", "[findings]") {
  const auto read = read_department_text(R"({"format": "redress-department", "version": 1,
    "title": "x", "urgency": {"same_day": "a", "urgent": "b", "soon": "c"},
    "driving": {"no_bar": "a", "not_until_controlled": "b", "notify_authority": "c"}})");
  REQUIRE_FALSE(read.ok());
  CHECK(read.problems()[0].place == "/urgency/routine");
}
