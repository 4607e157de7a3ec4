// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The chain of a record's lines against values from another implementation of BLAKE2b.
#include "sim/record/chain.hpp"
#include "sim/basics/content_hash.hpp"

#include <catch2/catch.hpp>
#include <string>

using namespace redress;
using namespace redress::record;

TEST_CASE("the hash is BLAKE2b with 32 bytes and no key") {
  // RFC 7693 defines it; values from the reference implementation in Python's hashlib.
  CHECK(calc_hash("abc") == "bddd813c634239723171ef3fee98579b94964e3bb1cb3e427262c8c068d52319");
  CHECK(calc_hash("") == "0e5751c026e543b2e8ab2eb06099daa1d1e5df47778f7787faab45cdf12fe3a8");
  CHECK(calc_hash("a", "bc") == calc_hash("abc"));
}

TEST_CASE("a line's chain is the hash of the chain before, as text, and the line's bytes") {
  ChainText chain;
  CHECK(make_chained_line("{\"a\":1}", chain) ==
        R"({"a":1,"chain":")"
        R"(839a468776cd91a729f29ae74023eb378b21c913c8c80a58837348c4249e175d"})");
  CHECK(make_chained_line("{\"b\":2}", chain) ==
        R"({"b":2,"chain":")"
        R"(33d442e3dc35d2fed2305e052067e44a7e229590058aac7e65a7be2867a6928b"})");
}

TEST_CASE("a chained line comes apart where it was put together") {
  ChainText chain;
  const std::string line = make_chained_line("{\"x\":\",\\\"chain\\\":\\\"\"}", chain);
  const auto parts = find_chain(line);
  REQUIRE(parts.has_value());
  CHECK(parts->body == "{\"x\":\",\\\"chain\\\":\\\"\"");
  CHECK(parts->chain == chain);
  CHECK_FALSE(find_chain("").has_value());
  CHECK_FALSE(find_chain(line + " ").has_value());
  CHECK_FALSE(find_chain(line.substr(0, line.size() - 1)).has_value());
  CHECK_FALSE(find_chain(line.substr(line.size() - 76)).has_value());
}
