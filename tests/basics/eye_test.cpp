// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The order and the sides of the two eyes.
#include "sim/basics/eye.hpp"

#include <catch2/catch.hpp>
#include <string>

using namespace redress;

TEST_CASE("the right eye comes first and lies at +x") {
  REQUIRE(kBothEyes[0] == Eye::right);
  REQUIRE(kBothEyes[1] == Eye::left);
  REQUIRE(side_of(Eye::right) == 1.0);
  REQUIRE(side_of(Eye::left) == -1.0);
  REQUIRE(std::string(name_of(Eye::right)) == "right");
  REQUIRE(std::string(name_of(Eye::left)) == "left");
}

TEST_CASE("the fellow of the fellow is the eye itself") {
  for (const Eye eye : kBothEyes) {
    REQUIRE(fellow(eye) != eye);
    REQUIRE(fellow(fellow(eye)) == eye);
  }
}

TEST_CASE("a value for each eye is found by its eye") {
  PerEye<int> pair{1, 2};
  REQUIRE(pair[Eye::right] == 1);
  REQUIRE(pair[Eye::left] == 2);
  pair[Eye::left] = 5;
  REQUIRE(pair.left == 5);
  REQUIRE(pair == PerEye<int>{1, 5});
  REQUIRE_FALSE(pair == PerEye<int>{5, 1});
}
