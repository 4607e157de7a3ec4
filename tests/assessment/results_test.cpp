// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// From kept stations to a cohort: scored as the engine scores the record, doubles and gaps told.
#include <string>
#include <utility>
#include <vector>

#include <catch2/catch.hpp>

#include "sim/assessment/circuit_file.hpp"
#include "sim/assessment/results.hpp"
#include "tests/assessment/circuit_texts.hpp"
#include "tests/assessment/kept_exophoria.hpp"

using namespace redress;
using namespace redress::assessment;
using nlohmann::json;

namespace {

ScoredStation scored(const std::string& candidate, std::size_t station, double total,
                     const std::string& id, bool whole = true) {
  return testing::make_scored({id, "circuit", candidate, station, "desk " + id, whole, 1000, ""},
                              total);
}

}  // namespace

TEST_CASE("a kept station scores as its record does, and the score is read back", "[assessment]") {
  const OpenedCircuit circuit = testing::make_one_station();
  const std::string content = testing::keep_station(circuit);
  const auto score = score_station(content, circuit);
  if (!score) FAIL(testing::listed(score.problems()));
  CHECK(score.value().sheet.total >= 98.0);  // rubric: a perfect examiner
  CHECK(score.value().finished);
  CHECK(score.value().sizes.size() >= 2);
  const std::string text = to_text(score.value());
  const auto again = parse_station_score(text);
  if (!again) FAIL(testing::listed(again.problems()));
  CHECK(to_text(again.value()) == text);
  CHECK(again.value().sheet.items[3].item == scoring::kRubric[3].item);
  CHECK_FALSE(parse_station_score(R"({"total":50})").ok());

  // Another patient than was sealed; another circuit.
  OpenedCircuit other = testing::make_one_station();
  CHECK_FALSE(score_station(content, other).ok());
  OpenedCircuit changed{circuit.circuit, circuit.forms,
                        CircuitKeys(lock_text(circuit.keys.seed().text())), "test"};
  changed.forms[0][0].written["seed"] = 12345;
  const auto refused = score_station(content, changed);
  REQUIRE_FALSE(refused.ok());
  CHECK(refused.problems()[0].message.find("another patient") != std::string::npos);
}

TEST_CASE("doubles and gaps are told, and the whole station counts", "[assessment]") {
  const Circuit circuit = parse_circuit(testing::small_circuit()).value();
  std::vector<ScoredStation> stations{
      scored("0001", 0, 60, "a"), scored("0001", 2, 70, "b"),        scored("0002", 0, 50, "c"),
      scored("0003", 2, 50, "d"), scored("0003", 0, 10, "e", false), scored("0003", 0, 80, "f")};
  const GatheredCohort gathered = gather_cohort(circuit, std::move(stations), {});
  REQUIRE(gathered.cohort.rows.size() == 2);
  CHECK(gathered.cohort.rows[0].candidate == "0001");
  CHECK(gathered.cohort.rows[0].stations[1].marks == 70);
  CHECK(gathered.cohort.rows[1].stations[0].marks == 80);
  REQUIRE(gathered.remarks.size() == 2);
  const std::string all = gathered.remarks[0] + gathered.remarks[1];
  CHECK(all.find("0003 has station 1 more than once, from desk e and desk f") != std::string::npos);
  CHECK(all.find("0002 is left out: station 3") != std::string::npos);
  CHECK(gathered.cohort.agreement.empty());
}

TEST_CASE("stations that went on together by their clocks are told, others are not",
          "[assessment]") {
  constexpr std::int64_t kNine = 1'795'856'400'000;
  const Circuit circuit = parse_circuit(testing::small_circuit()).value();
  const auto at = [](ScoredStation s, std::int64_t from_s, std::int64_t to_s) {
    s.score.began_utc_ms = kNine + 1000 * from_s;
    s.score.ended_utc_ms = kNine + 1000 * to_s;
    return s;
  };
  std::vector<ScoredStation> stations{at(scored("0001", 0, 60, "a"), 0, 300),
                                      at(scored("0001", 2, 70, "b"), 301, 600),
                                      at(scored("0002", 0, 60, "c"), 0, 300),
                                      at(scored("0002", 2, 70, "d"), 180, 480),
                                      scored("0003", 0, 60, "e"),
                                      at(scored("0003", 2, 70, "f"), 0, 300)};
  stations[0].score.clock_faults = 1;
  stations[1].score.stood_still_ms = 75'000;
  const GatheredCohort gathered = gather_cohort(circuit, stations, {});
  REQUIRE(gathered.remarks.size() == 1);
  CHECK(gathered.remarks[0] ==
        "Candidate 0002: by their clocks stations 1 (at desk c) and 3 (at desk d) went on together "
        "for 2:00. A clock was wrong, or somebody else sat there. No mark depends on it.");
  CHECK(gathered.cohort.rows.size() == 3);
  CHECK(gathered.cohort.rows[0].remarks ==
        std::vector<std::string>{"the clock was set or differed once",
                                 "the computer stood still for 1:15"});
  // As the store keeps it.
  const auto again = parse_station_score(to_text(stations[1].score));
  REQUIRE(again.ok());
  CHECK(again.value().stood_still_ms == 75'000);
  CHECK(again.value().ended_utc_ms == kNine + 600'000);
}
