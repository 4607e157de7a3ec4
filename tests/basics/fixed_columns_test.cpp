// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Rows of numbers have the text that append_fixed gives, which tests/basics/fixed_point_test.cpp
// compares with the C library's.
#include "sim/basics/fixed_columns.hpp"

#include <array>
#include <catch2/catch.hpp>
#include <cstdint>
#include <random>
#include <string>

using namespace redress;

namespace {

template <std::uint32_t decimals>
std::string row_of(double value) {
  std::array<char, kLongestNumber> row{};
  return {row.data(), write_fixed<decimals>(row.data(), value)};
}

std::string wanted(double value, int decimals) {
  std::string text;
  append_fixed(text, value, decimals);
  return text;
}

}  // namespace

TEST_CASE("numbers of a row are written as append_fixed writes them") {
  std::mt19937_64 engine(7);
  std::size_t different = 0;
  const auto compare = [&](double value) {
    if (row_of<4>(value) != wanted(value, 4)) ++different;
    if (row_of<5>(value) != wanted(value, 5)) ++different;
  };
  for (int i = 0; i < 200000; ++i) {
    const double unit = static_cast<double>(engine() >> 11) * 0x1p-52 - 1.0;  // -1 ... 1
    for (const double size : {1e-6, 1e-3, 1.0, 50.0, 1000.0, 5e4, 1e6, 9.9e8}) {
      compare(unit * size);
    }
  }
  // Halves, carries, and both sides of 32 bits.
  for (const double value :
       {0.0, -0.0, 0.000005, -0.000005, 0.00005, 0.99999, 0.999995, 9.99999, 9.999995, 99.999995,
        999.99999, 1e9 - 1, 39999.99999, 40000.0, 42949.67295, 42949.67296,
        399999.9999, 400000.0, 429496.7295, 429496.7296}) {
    compare(value);
    compare(-value);
  }
  CHECK(different == 0);
}

TEST_CASE("whole numbers and words of a row") {
  for (const std::int64_t value :
       {std::int64_t{0}, std::int64_t{9}, std::int64_t{10}, std::int64_t{99}, std::int64_t{100},
        std::int64_t{100001}, std::int64_t{3'999'999'999}, std::int64_t{4'000'000'000},
        std::int64_t{-1}, INT64_MAX, INT64_MIN}) {
    std::array<char, kLongestNumber> row{};
    CHECK(std::string(row.data(), write_integer(row.data(), value)) == std::to_string(value));
  }
  std::array<char, 8> row{};
  char* const end = write_text(write_text(row.data(), "left,"), "");
  CHECK(std::string(row.data(), end) == "left,");
}
