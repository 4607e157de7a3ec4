// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The hash of a state: every field counts, so does their order, and a zero has no sign.
#include "sim/basics/state_hash.hpp"

#include <bit>
#include <catch2/catch.hpp>
#include <cstdint>
#include <limits>
#include <set>

using namespace redress;

namespace {
template <class... Values>
std::uint64_t hash_of(Values... values) {
  StateHash hash;
  (hash("field", values), ...);
  return hash.value();
}
}  // namespace

TEST_CASE("minus zero counts as zero") {
  REQUIRE(hash_of(-0.0) == hash_of(0.0));
  REQUIRE(hash_of(1.0, -0.0, 2.0) == hash_of(1.0, 0.0, 2.0));
  REQUIRE(hash_of(0.0) != hash_of(std::numeric_limits<double>::denorm_min()));
}

TEST_CASE("the order and the number of fields count") {
  REQUIRE(hash_of(1.0, 2.0) != hash_of(2.0, 1.0));
  REQUIRE(hash_of(1.0) != hash_of(1.0, 0.0));
  REQUIRE(hash_of(0.0) != hash_of(0.0, 0.0));
  REQUIRE(hash_of(true, false) != hash_of(false, true));
  REQUIRE(hash_of(1.5, true, std::int32_t{3}) == hash_of(1.5, true, std::int32_t{3}));
}

TEST_CASE("each bit of a number, anywhere in the list, changes the hash") {
  std::set<std::uint64_t> seen;
  const double base = 12.3456789;
  seen.insert(hash_of(base, 0.25, base));
  for (int bit = 0; bit < 64; ++bit) {
    const double flipped =
        std::bit_cast<double>(std::bit_cast<std::uint64_t>(base) ^ (std::uint64_t{1} << bit));
    seen.insert(hash_of(flipped, 0.25, base));
    seen.insert(hash_of(base, 0.25, flipped));
  }
  REQUIRE(seen.size() == 129);
}

TEST_CASE("whole numbers keep their sign") {
  REQUIRE(hash_of(std::int32_t{-1}) != hash_of(std::int32_t{1}));
  REQUIRE(hash_of(std::int32_t{-1}) == hash_of(std::int64_t{-1}));
  REQUIRE(hash_of(std::uint32_t{7}) == hash_of(std::uint64_t{7}));
  REQUIRE(hash_of(std::int64_t{1} << 40) != hash_of(std::int64_t{1} << 41));
}

TEST_CASE("the name of a field does not count, so renaming keeps old records") {
  StateHash a;
  StateHash b;
  a("old_name", 3.5);
  b("new_name", 3.5);
  REQUIRE(a.value() == b.value());
}

TEST_CASE("hashes are written as 16 lower-case hexadecimal digits") {
  REQUIRE(to_hex(0) == "0000000000000000");
  REQUIRE(to_hex(0xfedcba9876543210ULL) == "fedcba9876543210");
  REQUIRE(to_hex(0xabcULL) == "0000000000000abc");
  REQUIRE(to_hex(~std::uint64_t{0}) == "ffffffffffffffff");
}
