// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// A value, or all the reasons why there is none.
#include "sim/basics/problem.hpp"

#include <catch2/catch.hpp>
#include <memory>
#include <string>

using namespace redress;

namespace {
Result<int> half_of(int value) {
  if (value % 2 != 0) return Problems{{"/value", "is odd: 3; allowed: even numbers"}};
  return value / 2;
}
}  // namespace

TEST_CASE("a result holds its value") {
  const Result<int> result = half_of(8);
  REQUIRE(result.ok());
  REQUIRE(static_cast<bool>(result));
  REQUIRE(result.value() == 4);
}

TEST_CASE("a result holds its problems in order") {
  const Result<int> result = half_of(3);
  REQUIRE_FALSE(result.ok());
  REQUIRE(result.problems().size() == 1);
  REQUIRE(result.problems()[0].place == "/value");
  const Result<int> two{Problems{{"", "a"}, {"/b", "c"}}};
  REQUIRE(two.problems() == Problems{{"", "a"}, {"/b", "c"}});
}

TEST_CASE("a value can be moved out of a result") {
  Result<std::unique_ptr<std::string>> result{std::make_unique<std::string>("moved")};
  const std::unique_ptr<std::string> taken = std::move(result).value();
  REQUIRE(*taken == "moved");
}

TEST_CASE("problems are equal when place and message are") {
  REQUIRE(Problem{"/a", "x"} == Problem{"/a", "x"});
  REQUIRE_FALSE(Problem{"/a", "x"} == Problem{"/b", "x"});
  REQUIRE_FALSE(Problem{"/a", "x"} == Problem{"/a", "y"});
}

TEST_CASE("asking for what is not there throws instead of inventing it") {
  REQUIRE_THROWS_AS(half_of(3).value(), std::bad_variant_access);
  REQUIRE_THROWS_AS(half_of(4).problems(), std::bad_variant_access);
}
