// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Clocks that are set, that differ, and that say nothing.
#include <catch2/catch.hpp>

#include <string>
#include <vector>

#include "sim/assessment/clocks.hpp"

using namespace redress;
using namespace redress::assessment;
using nlohmann::json;

namespace {

constexpr std::int64_t kNine = 1'795'856'400'000;  // 09:00 UTC on some day

DeskEvent event(Tick at_ms, const char* what, std::int64_t utc_ms, std::int64_t steady_ms) {
  DeskEvent e{at_ms, what, json::object()};
  put_reading({utc_ms, steady_ms}, e.detail);
  return e;
}

}  // namespace

TEST_CASE("clocks: a set clock is told from one that goes", "[assessment]") {
  CHECK_FALSE(find_set_by({kNine, 5000}, {kNine + 60'000, 65'000}));
  CHECK_FALSE(find_set_by({kNine, 5000}, {kNine + 61'900, 65'000}));  // drawn right by a server
  CHECK(find_set_by({kNine, 5000}, {kNine + 3'660'000, 65'000}) == 3'600'000);
  CHECK(find_set_by({kNine, 5000}, {kNine - 3'540'000, 65'000}) == -3'600'000);
  // A machine that slept for an hour: both clocks went on.
  CHECK_FALSE(find_set_by({kNine, 5000}, {kNine + 3'600'000, 3'605'000}));
}

TEST_CASE("clocks: events tell a set clock, and two that differ", "[assessment]") {
  std::vector<DeskEvent> events{event(0, "began", kNine, 1000),
                                {500, "reading_over", json::object()},  // of an older version
                                event(9000, "left_window", kNine + 9000, 10'000)};
  CHECK(find_clock_faults(events).empty());
  events.push_back(event(12'000, "came_back", kNine + 12'000 + 3'600'000, 13'000));
  auto faults = find_clock_faults(events);
  REQUIRE(faults.size() == 1);
  CHECK(faults[0].at_ms == 12'000);
  CHECK(to_words(faults[0]) == "the time of day was set forward by 1:00:00");
  // On another machine the steady clock begins anew, and the time of day is earlier.
  events.push_back({12'250, "resumed", json{{"workstation", "desk 7"}}});
  events.push_back(event(12'250, "clock_differs", kNine + 20'000, 77));
  faults = find_clock_faults(events);
  REQUIRE(faults.size() == 2);
  CHECK(faults[1].differs);
  CHECK(to_words(faults[1]) ==
        "the clock where it went on is at least 59:52 behind that where it began");
  // Later by hours is no fault: nobody knows how long an interruption lasts.
  events.back() = event(12'250, "paused", kNine + 90'000'000, 77);
  CHECK(find_clock_faults(events).size() == 1);
}

TEST_CASE("clocks: what is no time is no reading", "[assessment]") {
  for (const json& detail : {json::object(), json(7), json{{"utc_ms", "late"}, {"steady_ms", 1}},
                             json{{"utc_ms", -1}, {"steady_ms", 1}},
                             json{{"utc_ms", 1}, {"steady_ms", 1e30}}, json{{"utc_ms", 1}}}) {
    INFO(detail.dump());
    CHECK_FALSE(find_reading({0, "began", detail}));
  }
  CHECK(write_span(-12'400) == "12 s");
  CHECK(write_span(75'000) == "1:15");
}
