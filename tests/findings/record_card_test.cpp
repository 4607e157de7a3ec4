// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include <catch2/catch.hpp>

#include <vector>

#include "sim/findings/record_card.hpp"
#include "sim/findings/recovery.hpp"

using namespace redress;
using namespace redress::findings;

namespace {

Act note(Tick at_ms, FindingTest test, double distance_m, FindingKind kind, double horizontal_pd) {
  Finding f;
  f.test = test;
  f.distance_m = distance_m;
  f.spectacles = false;
  f.kind = kind;
  f.horizontal_pd = horizontal_pd;
  return {at_ms, act::Note{f}};
}

}  // namespace

TEST_CASE("of several entries for the same thing the latest counts", "[findings]") {
  const std::vector<Act> acts{
      note(1000, FindingTest::cover_test, 6.0, FindingKind::phoria, -4),
      note(2000, FindingTest::cover_test, 0.4, FindingKind::phoria, -8),
      note(3000, FindingTest::cover_test, 6.1, FindingKind::phoria, -6)};
  const RecordCard card = make_card(acts);
  REQUIRE(card.entries.size() == 2);
  const WrittenFinding* six = find_entry(card, FindingTest::cover_test, 6.0, false);
  REQUIRE(six != nullptr);
  CHECK(six->at_ms == 3000);
  CHECK(find_entry(card, FindingTest::prism_cover, 6.0, false) == nullptr);
  CHECK(find_entry(card, FindingTest::cover_test, 6.0, true) == nullptr);
  CHECK(card.contradictions.empty());
}

TEST_CASE("contradictions are pointed out and kept", "[findings]") {
  const std::vector<Act> acts{
      note(1000, FindingTest::cover_test, 6.0, FindingKind::phoria, -4),
      note(2000, FindingTest::prism_cover, 6.0, FindingKind::phoria, 5),
      note(3000, FindingTest::cover_test, 0.4, FindingKind::none, -6),
      note(4000, FindingTest::cover_test, 1.0, FindingKind::tropia, -6)};
  const RecordCard card = make_card(acts);
  CHECK(card.entries.size() == 4);
  REQUIRE(card.contradictions.size() == 3);
  const nlohmann::json json = to_json(card);
  CHECK(json.at("entries").size() == 4);
  CHECK(json.at("entries").at(0).at("finding").at("test") == "cover_test");
  CHECK(json.at("contradictions").size() == 3);
}

TEST_CASE("words for recovery", "[findings]") {
  CHECK(grade_recovery(1400) == RecoveryGrade::rapid);
  CHECK(grade_recovery(2000) == RecoveryGrade::moderate);
  CHECK(grade_recovery(4000) == RecoveryGrade::slow);
  CHECK(grade_recovery(std::nullopt) == RecoveryGrade::none);
}
