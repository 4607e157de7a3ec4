// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Numbers as text with a fixed count of decimals, against the C library's printf.
//
// They differ by policy in one place: printf rounds the exact binary value and its halves to even;
// append_fixed multiplies by the power of ten (one rounding) and takes halves away from zero. So
// 0.5 is "0" for printf("%.0f") and "1" here, and 1.115 (a little less than it looks in binary) is
// "1.11" there and "1.12" here. Away from halves the two agree.
#include "sim/basics/fixed_point.hpp"

#include <array>
#include <catch2/catch.hpp>
#include <cmath>
#include <cstdint>
#include <cstdio>
#include <limits>
#include <random>
#include <string>

using namespace redress;

namespace {

std::string fixed(double value, int decimals) {
  std::string text;
  append_fixed(text, value, decimals);
  return text;
}

std::string printed(double value, int decimals) {
  std::array<char, 400> buffer{};
  const int n = std::snprintf(buffer.data(), buffer.size(), "%.*f", decimals, value);
  std::string text(buffer.data(), static_cast<std::size_t>(n));
  // The one other difference: printf writes -0.00.
  if (text.find_first_not_of("-0.") == std::string::npos && text[0] == '-') text.erase(0, 1);
  return text;
}

/// How far value * 10^decimals is from the nearest half, where the two policies part.
long double from_half(double value, int decimals) {
  const long double scaled = std::fabs(static_cast<long double>(value)) *
                             std::pow(10.0L, static_cast<long double>(decimals));
  return std::fabs(scaled - std::floor(scaled) - 0.5L);
}

}  // namespace

TEST_CASE("fixed-point text is printf's, away from halves") {
  std::mt19937_64 engine(20260101);
  const auto unit = [&engine] { return static_cast<double>(engine() >> 11) * 0x1p-53; };
  int compared = 0;
  for (int i = 0; i < 400000; ++i) {
    const int decimals = static_cast<int>(engine() % 10);
    const double size = std::exp(std::log(1e-7) + unit() * (std::log(1e6) - std::log(1e-7)));
    const double value = engine() % 2 == 0 ? size : -size;
    const double scaled = size * std::pow(10.0, decimals);
    // Half a unit in the last place of the product is what multiplying may shift it by.
    if (scaled > 0x1p52 || from_half(value, decimals) <= scaled * 0x1p-52L) continue;
    INFO(value << " with " << decimals << " decimals");
    REQUIRE(fixed(value, decimals) == printed(value, decimals));
    ++compared;
  }
  REQUIRE(compared > 390000);
}

TEST_CASE("every value of a trace reads back to within half of its last decimal") {
  std::mt19937_64 engine(7);
  for (int i = 0; i < 100000; ++i) {
    const double value = (static_cast<double>(engine() >> 11) * 0x1p-53 - 0.5) * 180.0;
    REQUIRE(std::fabs(std::stod(fixed(value, 5)) - value) <= 0.5e-5 * (1 + 1e-9));
  }
}

TEST_CASE("halves go away from zero") {
  REQUIRE(fixed(0.5, 0) == "1");
  REQUIRE(fixed(1.5, 0) == "2");
  REQUIRE(fixed(2.5, 0) == "3");
  REQUIRE(fixed(-2.5, 0) == "-3");
  REQUIRE(fixed(0.125, 2) == "0.13");
  REQUIRE(fixed(-0.125, 2) == "-0.13");
  REQUIRE(fixed(1.115, 2) == "1.12");
}

TEST_CASE("a value that rounds to zero has no sign") {
  REQUIRE(fixed(-0.0, 5) == "0.00000");
  REQUIRE(fixed(-0.000004, 5) == "0.00000");
  REQUIRE(fixed(-0.000005, 5) == "-0.00001");
  REQUIRE(fixed(-0.4, 0) == "0");
}

TEST_CASE("leading zeros, carries and large values") {
  REQUIRE(fixed(0.0, 0) == "0");
  REQUIRE(fixed(0.0, 4) == "0.0000");
  REQUIRE(fixed(0.05, 4) == "0.0500");
  REQUIRE(fixed(9.99996, 4) == "10.0000");
  REQUIRE(fixed(0.99999999999, 9) == "1.000000000");
  REQUIRE(fixed(-12.34567, 5) == "-12.34567");
  REQUIRE(fixed(999999999.0, 0) == "999999999");
  REQUIRE(fixed(999999999.0, 9) == "999999999.000000000");
  REQUIRE(fixed(-999999999.5, 1) == "-999999999.5");
}

TEST_CASE("text is appended, not replaced") {
  std::string text = "1,";
  append_fixed(text, 2.5, 1);
  text += ',';
  append_integer(text, -7);
  REQUIRE(text == "1,2.5,-7");
}

TEST_CASE("whole numbers are written in full") {
  for (const std::int64_t value :
       {std::int64_t{0}, std::int64_t{-1}, std::int64_t{1000},
        std::numeric_limits<std::int64_t>::max(), std::numeric_limits<std::int64_t>::min()}) {
    std::string text;
    append_integer(text, value);
    REQUIRE(text == std::to_string(value));
  }
}
