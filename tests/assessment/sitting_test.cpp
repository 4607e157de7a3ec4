// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// What sitting a circuit needs: the hard stop with extra time and credits, where a station goes on,
// which instrument an act takes, and the one practice patient.
#include <catch2/catch.hpp>

#include <string>
#include <vector>

#include "sim/assessment/sitting.hpp"
#include "sim/cases/case_file.hpp"

using namespace redress;
using namespace redress::assessment;
using nlohmann::json;

TEST_CASE("sitting: extra time and credits move the hard stop, nothing else does", "[assessment]") {
  Station station;
  station.time_s = 360;
  station.reading_s = 60;
  CHECK(calc_station_ms(station, {}) == 360'000);
  // 25 % of six minutes are a minute and a half; reading has its share as well.
  CHECK(calc_station_ms(station, {25, 0}) == 450'000);
  CHECK(calc_reading_ms(station, {25, 0}) == 75'000);
  CHECK(calc_station_ms(station, {25, 60'000}) == 510'000);
  const std::vector<DeskEvent> events{
      {0, "began", json{{"extra_percent", 50}}},
      {5000, "time_credit", json{{"ms", 20'000}, {"reason", "fire bell"}}},
      {6000, "incident", json{{"ms", 99'000}}},
      {9000, "time_credit", json{{"ms", 10'000}}}};
  CHECK(read_terms(events) == TimeTerms{50, 30'000});
  // What cannot be read gives no time.
  CHECK(read_terms(std::vector<DeskEvent>{{0, "time_credit", json{{"ms", "much"}}},
                                          {0, "time_credit", json{{"ms", -5}}},
                                          {0, "began", json::object()}}) == TimeTerms{});
}

TEST_CASE("sitting: a station goes on where its events say", "[assessment]") {
  std::vector<DeskEvent> events{{0, "began", json::object()}};
  CHECK(read_progress(events).reading_used_ms == 0);
  events.push_back({0, "reading", json{{"used_ms", 15'000}}});
  events.push_back({0, "reading", json{{"used_ms", 20'000}}});
  CHECK(read_progress(events).reading_used_ms == 20'000);
  CHECK_FALSE(read_progress(events).reading_done);
  events.push_back({0, "reading_over", json::object()});
  CHECK(read_progress(events).reading_done);
  CHECK_FALSE(read_progress(events).handed_in);
  events.push_back({60'000, "handed_in", json::object()});
  CHECK(read_progress(events).handed_in);
}

TEST_CASE("sitting: which instrument an act takes, and what a loose prism stands for",
          "[assessment]") {
  using I = Instrument;
  CHECK(find_instrument(act::Cover{Eye::right, OccluderKind::translucent, Side::above, 250}) ==
        I::translucent_occluder);
  act::HoldPrism prism;
  prism.base = Degrees{180};
  CHECK(find_instrument(prism) == I::horizontal_bar);
  prism.base = Degrees{270};
  CHECK(find_instrument(prism) == I::vertical_bar);
  CHECK(find_instrument(act::Penlight{true}) == I::penlight);
  CHECK_FALSE(find_instrument(act::Ask{"clear"}).has_value());
  Station station;
  station.instruments = {I::loose_prisms, I::opaque_occluder};
  CHECK(allows(station, I::vertical_bar));
  CHECK(allows(station, I::opaque_occluder));
  CHECK_FALSE(allows(station, I::translucent_occluder));
}

TEST_CASE("sitting: a candidate's number can be part of a file's name", "[assessment]") {
  CHECK(is_candidate_number("0417"));
  CHECK(is_candidate_number("B-17.2"));
  for (const char* bad :
       {"", "../0417", "04 17", ".17", "-r", "0417/4", "123456789012345678901", "0417\n"}) {
    INFO(bad);
    CHECK_FALSE(is_candidate_number(bad));
  }
  CHECK(make_station_name("0417", 3) == "0417-4.station");
}

TEST_CASE("sitting: the practice patient is a whole case without anything to find",
          "[assessment]") {
  const auto content = parse_case(practice_case());
  REQUIRE(content.ok());
  CHECK(content.value().expected.diagnosis.empty());
  CHECK(practice_case() == practice_case());
}
