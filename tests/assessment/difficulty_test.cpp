// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// How hard a case is: the same people each time, the skilled ahead where skill counts, every share
// inside its interval, and an end as soon as nobody waits for it any more.
#include <catch2/catch.hpp>

#include "sim/assessment/difficulty.hpp"
#include "sim/cases/case_file.hpp"
#include "tests/cases/case_texts.hpp"

using namespace redress;
using namespace redress::assessment;

namespace {

Case shipped(const std::string& name) {
  return read_case_text(testing::shipped_case(name)).value();
}

const MarkDifficulty* find(const Difficulty& difficulty, scoring::Item item) {
  for (const MarkDifficulty& mark : difficulty.marks) {
    if (mark.item == item) return &mark;
  }
  return nullptr;
}

}  // namespace

TEST_CASE("how hard a case is, by mark and skill", "[assessment]") {
  const auto on = [] { return true; };
  const auto found = calc_difficulty(shipped("exophoria"), 40, 5, on);
  REQUIRE(found);
  CHECK(found->people == 40);
  CHECK(found->mean_marks[0] < found->mean_marks[1]);
  CHECK(found->mean_marks[1] < found->mean_marks[2]);
  REQUIRE(found->marks.size() >= 15);
  for (const MarkDifficulty& mark : found->marks) {
    for (const MarkShare& share : mark.skills) {
      CHECK(share.of <= found->people);
      CHECK(share.full <= share.of);
      CHECK(share.interval.low <= share.share);
      CHECK(share.interval.high >= share.share);
    }
  }
  const MarkDifficulty* size = find(*found, scoring::Item::d3);
  REQUIRE(size != nullptr);
  CHECK(size->skills[0].share < size->skills[2].share);

  const auto again = calc_difficulty(shipped("exophoria"), 40, 5, on);
  REQUIRE(again);
  for (std::size_t i = 0; i < found->marks.size(); ++i) {
    CHECK(again->marks[i].skills[1].full == found->marks[i].skills[1].full);
  }
}

TEST_CASE("how hard a case is: nobody waits, and it ends", "[assessment]") {
  int asked = 0;
  const auto found = calc_difficulty(shipped("exophoria"), 40, 5, [&] { return ++asked < 1; });
  CHECK_FALSE(found);
  CHECK(asked <= 2);  // before the second examination, and before the first person
}
