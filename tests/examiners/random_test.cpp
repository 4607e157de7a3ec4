// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The examiner at random keeps to what an acts file may say; the idle one does nothing.
#include <catch2/catch.hpp>

#include <set>

#include "sim/cases/defaults.hpp"
#include "sim/cases/setup.hpp"
#include "sim/examiners/examine.hpp"
#include "sim/record/act_json.hpp"

using namespace redress;
using examiners::Kind;

namespace {

examiners::Examined examine_healthy(Kind kind, std::uint64_t seed) {
  Examination exam(setup_of(make_healthy_case()), {seed, 1.0});
  examiners::Habits habits;
  habits.kind = kind;
  habits.seed = seed;
  return examiners::examine(exam, habits);
}

}  // namespace

TEST_CASE("Every act of any examiner can be written to a file and read back", "[examiners]") {
  std::set<std::size_t> kinds;
  for (const Kind kind : {Kind::random, Kind::reference, Kind::guessing}) {
    for (std::uint64_t seed = 1; seed <= (kind == Kind::random ? 20U : 1U); ++seed) {
      Tick last = 0;
      for (const Act& a : examine_healthy(kind, seed).acts) {
        const auto json = record::to_json(a);
        CAPTURE(json.dump());
        const auto again = record::parse_act(json);
        REQUIRE(again.ok());
        CHECK(record::to_json(again.value()) == json);
        CHECK(a.at_ms >= last);
        last = a.at_ms;
        if (kind == Kind::random) kinds.insert(a.content.index());
      }
    }
  }
  CHECK(kinds.size() == std::variant_size_v<ActContent>);  // anything that is allowed
}

TEST_CASE("No examiner shows a target at 0, where it would change the opening", "[examiners]") {
  for (const Kind kind : {Kind::random, Kind::reference, Kind::idle, Kind::guessing}) {
    const examiners::Examined examined = examine_healthy(kind, 5);
    for (const Act& a : examined.acts) CHECK(a.at_ms > 0);
    CHECK(examined.until > 0);
  }
}

TEST_CASE("Two seeds act differently, one seed the same", "[examiners]") {
  const auto one = examine_healthy(Kind::random, 1);
  const auto again = examine_healthy(Kind::random, 1);
  const auto other = examine_healthy(Kind::random, 2);
  REQUIRE(one.acts.size() == again.acts.size());
  CHECK(record::to_json(one.acts.back()) == record::to_json(again.acts.back()));
  CHECK(record::to_json(one.acts.front()) != record::to_json(other.acts.front()));
}

TEST_CASE("The idle examiner does nothing and the guessing one only writes", "[examiners]") {
  CHECK(examine_healthy(Kind::idle, 1).acts.empty());
  for (const Act& a : examine_healthy(Kind::guessing, 1).acts) {
    CHECK(std::holds_alternative<act::Note>(a.content));
  }
}
