// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// A debrief that is released to its candidate counts as the circuit does, overrulings included,
// replays from its record alone, and is refused where it was altered; and the table for the
// moderation meeting, with the exposure of each patient.
#include <algorithm>
#include <string>
#include <vector>

#include <catch2/catch.hpp>

#include "sim/assessment/circuit_file.hpp"
#include "sim/assessment/moderation.hpp"
#include "sim/assessment/released_debrief.hpp"
#include "sim/basics/file.hpp"
#include "sim/record/record_file.hpp"
#include "sim/record/replay.hpp"
#include "tests/assessment/circuit_texts.hpp"
#include "tests/assessment/kept_exophoria.hpp"
#include "tests/cases/case_texts.hpp"
#include "tests/support/temporary_folder.hpp"

using namespace redress;
using namespace redress::assessment;
using nlohmann::json;

namespace {

OpenedCircuit weighed_station() {
  return testing::make_one_station(
      {{"findings", 8}, {"technique", 6}, {"reasoning", 3}, {"conclusion", 3}});
}

std::string keep_hasty(const OpenedCircuit& circuit) {
  examiners::Habits habits;
  habits.fault = examiners::Fault::short_covers;
  return testing::keep_station(circuit, habits);
}

ScoredStation scored(const std::string& candidate, std::size_t station, double total) {
  return testing::make_scored({candidate + std::to_string(station), "circuit", candidate, station,
                               "desk, 2", true, 1000, ""},
                              total);
}

std::size_t count_lines(const std::string& text) {
  return static_cast<std::size_t>(std::count(text.begin(), text.end(), '\n'));
}

}  // namespace

TEST_CASE("a released debrief counts as the circuit does, with what was overruled",
          "[assessment]") {
  const OpenedCircuit circuit = weighed_station();
  const std::string content = keep_hasty(circuit);
  const StationScore score = score_station(content, circuit).value();
  REQUIRE(score.sheet.total < 100);
  Ledger ledger;
  ledger.assessor = "A. Perera";
  const scoring::ItemScore* lost = nullptr;
  for (const scoring::ItemScore& item : score.sheet.items) {
    if (item.max > 0.0 && item.marks < item.max) lost = &item;
  }
  REQUIRE(lost != nullptr);
  ledger.overrulings.push_back(
      {"0417", 0, lost->item, lost->marks, lost->max, "said aloud, long enough"});
  const std::vector<Ledger> ledgers{ledger};
  const FinalMarks marks = apply_ledgers(score.sheet, "0417", 0, ledgers);
  REQUIRE(marks.total > score.sheet.total);

  const auto released = release_debrief(content, circuit, marks);
  REQUIRE(released.ok());
  const auto back = read_released(to_text(released.value()));
  REQUIRE(back.ok());
  CHECK(back.value().candidate == "0417");
  CHECK(back.value().station == 0);
  CHECK(make_released_name("0417", 0) == "0417-1.debrief");

  // From the record alone, bit for bit; marked from it again, the final marks come out.
  const record::Record record = record::read_record(back.value().record).value();
  const Case the_case = parse_case(record.header.the_case).value();
  const ExaminationSetup setup = setup_of(the_case);
  CHECK(record::replay(record, setup).agrees);
  const ScoringForm form = prepare_scoring(circuit.forms[0][0]);
  const scoring::ScoreSheet sheet = back.value().marking.apply(scoring::calc_score(
      the_case, setup, record.acts, {record.header.seed, record.header.noise, true},
      record::calc_last_tick(record), form.truth, back.value().marking.column));
  CHECK(sheet.total == marks.total);
  bool told = false;
  for (const scoring::ItemScore& item : sheet.items) {
    if (item.item != lost->item) continue;
    CHECK(item.marks == item.max);
    told = item.why.find("Overruled by A. Perera: said aloud, long enough.") != std::string::npos;
  }
  CHECK(told);
}

TEST_CASE("a debrief that is none, newer, torn or altered is refused with the place",
          "[assessment]") {
  const OpenedCircuit circuit = weighed_station();
  const std::string content = keep_hasty(circuit);
  const StationScore score = score_station(content, circuit).value();
  const std::string text =
      to_text(release_debrief(content, circuit, apply_ledgers(score.sheet, "0417", 0, {})).value());
  const json good = json::parse(text);
  const auto place_of = [](const json& value) {
    const auto read = read_released(value.dump());
    return read.ok() ? std::string("taken") : read.problems().front().place;
  };
  REQUIRE(place_of(good) == "taken");
  json bad = good;
  bad["format"] = "redress-case";
  CHECK(place_of(bad) == "/format");
  bad = good;
  bad["version"] = 2;
  CHECK(place_of(bad) == "/version");
  bad = good;
  bad["station"] = 0;
  CHECK(place_of(bad) == "/station");
  bad = good;
  bad["rubric"] = "X";
  CHECK(place_of(bad) == "/rubric");
  bad = good;
  bad["overruled"] = {{{"item", "Z9"}, {"marks", 1}, {"reasons", json::array()}}};
  CHECK(place_of(bad) == "/overruled/0/item");
  bad = good;
  std::string record = bad["record"];
  record[record.size() / 2] ^= 1;
  bad["record"] = record;
  CHECK(place_of(bad).starts_with("/record"));
  CHECK_FALSE(read_released(text.substr(0, text.size() / 2)).ok());
  CHECK_FALSE(read_released("").ok());
  // Of another circuit: its keys do not open it.
  CHECK_FALSE(release_debrief(content, weighed_station(), {}).ok());
}

TEST_CASE("the table for the meeting has each station once, and how many met its patient",
          "[assessment]") {
  const Circuit circuit = parse_circuit(testing::small_circuit()).value();
  const std::vector<std::size_t> stations = find_scored(circuit);
  std::vector<ScoredStation> all;
  for (const char* candidate : {"0388", "0402", "0417"}) {
    for (const std::size_t s : stations) all.push_back(scored(candidate, s, 60));
  }
  all.push_back(scored("0430", stations.front(), 40));  // went home
  const Exposure exposure = count_exposure(circuit, "circuit", all);
  for (const std::size_t s : stations) {
    std::size_t met = 0;
    for (const std::uint64_t seed : circuit.stations[s].seeds) {
      const auto found = exposure.find({s, seed});
      if (found != exposure.end()) met += found->second;
    }
    CHECK(met == (s == stations.front() ? 4 : 3));
  }
  // A second copy is no second person.
  std::vector<ScoredStation> twice = all;
  twice.push_back(all.front());
  CHECK(count_exposure(circuit, "circuit", twice) == exposure);

  Ledger ledger;
  ledger.assessor = "A. Perera";
  ledger.ratings.push_back({"0402", stations.front(), GlobalRating::borderline});
  ledger.overrulings.push_back(
      {"0402", stations.front(), scoring::Item::d2, 2.4, 4.0, "said \"out\", aloud"});
  const std::vector<Ledger> ledgers{ledger};
  const GatheredCohort gathered = gather_cohort(circuit, all, ledgers);
  const std::string csv = make_moderation_csv(circuit, "circuit", all, ledgers, gathered.cohort,
                                              calc_figures(gathered.cohort));
  CHECK(count_lines(csv) == all.size() + 1);
  CHECK(csv.find("A. Perera: borderline") != std::string::npos);
  CHECK(csv.find("D2 2.4 to 4.0 of 4.0 (A. Perera: said \"\"out\"\", aloud)") != std::string::npos);
  CHECK(csv.find("\"desk, 2\"") != std::string::npos);
  const std::size_t home = csv.find("0430,");
  REQUIRE(home != std::string::npos);
  CHECK(csv.substr(home, csv.find('\n', home) - home).ends_with(",,,,"));
}
