// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The circuit file: reader against an independent validator of the published schema (valijson,
// draft 7), and what the engine makes of a circuit.
#include <string>
#include <tuple>
#include <vector>

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>
#include <valijson/adapters/nlohmann_json_adapter.hpp>
#include <valijson/schema.hpp>
#include <valijson/schema_parser.hpp>
#include <valijson/validator.hpp>

#include "sim/assessment/check_circuit.hpp"
#include "sim/assessment/circuit_file.hpp"
#include "sim/assessment/station_mark.hpp"
#include "sim/program/circuit_files.hpp"
#include "sim/program/generate.hpp"
#include "tests/assessment/circuit_texts.hpp"
#include "tests/cases/case_texts.hpp"
#include "tests/support/places.hpp"

using namespace redress;
using namespace redress::assessment;
using namespace redress::testing;
using nlohmann::json;

namespace {

bool schema_takes(const json& value) {
  static const json kText = json::parse(read_scenario("circuit.schema.json"));
  static const valijson::Schema& kSchema = [&]() -> const valijson::Schema& {
    static valijson::Schema schema;
    valijson::SchemaParser parser(valijson::SchemaParser::kDraft7);
    parser.populateSchema(valijson::adapters::NlohmannJsonAdapter(kText), schema);
    return schema;
  }();
  valijson::Validator validator(valijson::Validator::kStrongTypes);
  const valijson::adapters::NlohmannJsonAdapter target(value);
  return validator.validate(kSchema, target, nullptr);
}

Problems circuit_problems(const json& value) {
  const Result<Circuit> read = parse_circuit(value);
  return read ? Problems{} : read.problems();
}

bool refused_at(const json& value, const std::string& place) {
  for (const Problem& p : circuit_problems(value)) {
    if (p.place == place && p.message.find("allowed") != std::string::npos) return true;
  }
  return false;
}

const std::string kExample = support::source_dir() + "/scenarios/circuits/second_year.json";

}  // namespace

TEST_CASE("a circuit is read, written out and read again the same", "[assessment]") {
  const Result<Circuit> read = parse_circuit(small_circuit());
  if (!read) FAIL(listed(read.problems()));
  const Circuit& c = read.value();
  REQUIRE(c.stations.size() == 3);
  CHECK(c.stations[0].weights->findings == 8);
  CHECK(c.stations[0].pass_mark == 55);  // the circuit's, as the station says none
  CHECK(c.stations[0].instruments == std::vector{Instrument::opaque_occluder});
  CHECK(c.stations[2].instruments.size() == kInstrumentCount);
  CHECK(c.stations[1].rest);
  CHECK(find_scored(c) == std::vector<std::size_t>{0, 2});
  CHECK(calc_length_s(c) == 660 + 60 + 360);
  const json written = json::parse(to_json(c).dump());
  CHECK(schema_takes(written));
  const Result<Circuit> again = parse_circuit(written);
  REQUIRE(again.ok());
  CHECK(again.value() == c);
}

TEST_CASE("the shipped circuit and the small one pass the published schema", "[assessment]") {
  CHECK(schema_takes(small_circuit()));
  const Result<Circuit> shipped = program::load_circuit(kExample);
  if (!shipped) FAIL(listed(shipped.problems()));
  CHECK(schema_takes(json::parse(read_scenario("circuits/second_year.json"))));
  const auto forms = program::load_forms(shipped.value(), program::patients_beside(kExample));
  if (!forms) FAIL(listed(forms.problems()));
  CHECK(forms.value()[1].size() == 2);  // parallel
  CHECK(forms.value()[2].empty());      // rest
}

TEST_CASE("reader and schema refuse the same circuits, the reader with the place", "[assessment]") {
  const std::vector<std::tuple<std::string, json>> broken{
      {"/title", 3},
      {"/pass/standard", "guessed"},
      {"/pass/mark", 101},
      {"/forms_within_marks", -1},
      {"/stations", json::array()},
      {"/stations/0/time_s", 29},
      {"/stations/0/time_s", "five minutes"},
      {"/stations/0/reading_s", 901},
      {"/stations/0/tasks", json::array()},
      {"/stations/0/tasks/0", ""},
      {"/stations/0/procedures/0", "guess"},
      {"/stations/0/instruments/0", "slit_lamp"},
      {"/stations/0/weights/findings", -1},
      {"/stations/0/magnification", 7},
      {"/stations/0/pass_mark", -0.5},
      {"/stations/0/rubric", "other"},
      {"/stations/0/case", "/etc/passwd"},
      {"/stations/1/rest_s", 10},
      {"/stations/2/seeds/1", -1},
      {"/stations/2/seeds/1", 3},
      {"/stations/2/safety", "yes"},
      {"/stations/2/family/difficulty", 1.1},
      {"/stations/2/angoff_percent/0", 100.5}};
  for (const auto& [place, value] : broken) {
    INFO(place << " = " << value);
    const json changed = circuit_with(place, value);
    INFO(listed(circuit_problems(changed)));
    // A key given twice is told at the second.
    CHECK(refused_at(changed, place));
    CHECK_FALSE(schema_takes(changed));
  }
  for (const std::string place : {"/zzz", "/pass/zzz", "/stations/0/zzz", "/stations/1/zzz"}) {
    INFO(place);
    CHECK_FALSE(circuit_problems(circuit_with(place, 1)).empty());
    CHECK_FALSE(schema_takes(circuit_with(place, 1)));
  }
  json both = circuit_with("/stations/2/case", "exophoria.json");
  CHECK(refused_at(both, "/stations/2/case"));
  CHECK_FALSE(schema_takes(both));
  CHECK(refused_at(circuit_with("/version", 2), "/version"));
}

TEST_CASE("what only the whole circuit shows is refused too", "[assessment]") {
  CHECK(refused_at(circuit_with("/pass/stations", 3), "/pass/stations"));
  CHECK(refused_at(circuit_with("/stations/2/name", "one"), "/stations/2/name"));
  CHECK(refused_at(circuit_with("/pass/standard", "angoff"), "/stations/0"));
  CHECK(refused_at(circuit_with("/stations", json::array({{{"rest_s", 60}}})), "/stations"));
  // A case that is not there, and a diagnosis that nobody draws, by station.
  const auto problems_of_forms = [](const json& value) {
    const Result<Circuit> read = parse_circuit(value);
    REQUIRE(read.ok());
    const std::string path = support::source_dir() + "/scenarios/x.json";
    const auto forms = program::load_forms(read.value(), program::patients_beside(path));
    return forms ? Problems{} : forms.problems();
  };
  CHECK(problems_of_forms(small_circuit()).empty());
  const Problems missing = problems_of_forms(circuit_with("/stations/0/case", "nobody.json"));
  REQUIRE(missing.size() == 1);
  CHECK(missing[0].place == "/stations/0/case");
  CHECK(missing[0].message.find("nobody.json") == 0);
  const Problems unknown =
      problems_of_forms(circuit_with("/stations/2/family/diagnosis", "hiccups"));
  REQUIRE(unknown.size() == 1);
  CHECK(unknown[0].place == "/stations/2/family");
}

TEST_CASE("the schema's diagnoses are those that the generator knows", "[assessment]") {
  const json schema = json::parse(read_scenario("circuit.schema.json"));
  const json& words = schema["properties"]["stations"]["items"]["anyOf"][0]["properties"]["family"]
                            ["properties"]["diagnosis"]["enum"];
  REQUIRE(words.size() == program::generated_diagnoses().size());
  for (std::size_t i = 0; i < words.size(); ++i) {
    CHECK(words[i] == program::generated_diagnoses()[i]);
  }
}

TEST_CASE("a candidate gets the same form each time, and forms are spread evenly", "[assessment]") {
  CHECK(find_form("circuit", "0417", 3, 1) == 0);
  std::vector<int> counts(4);
  for (int i = 0; i < 4000; ++i) {
    const std::string candidate = std::to_string(i);
    const std::size_t form = find_form("circuit", candidate, 3, 4);
    REQUIRE(form < 4);
    CHECK(form == find_form("circuit", candidate, 3, 4));
    ++counts[form];
  }
  // Binomial, n 4000, p 1/4: standard deviation 27.4; five of them.
  for (const int count : counts) CHECK(std::abs(count - 1000) < 137);
}

TEST_CASE("weights share out 100 marks between sections, and caps still hold", "[assessment]") {
  using scoring::Item;
  scoring::ScoreSheet sheet;
  sheet.items = {{Item::a1, 10, 5, scoring::Grade::half, "", {}},
                 {Item::b1, 30, 30, scoring::Grade::full, "", {}},
                 {Item::c1, 10, 0, scoring::Grade::none, "", {}},
                 {Item::d1, 50, 25, scoring::Grade::half, "", {}}};
  sheet.total = 60;
  CHECK(reweigh(sheet, std::nullopt).total == 60);
  // No item of a conclusion: its weight goes to the others, 8 + 6 + 3 = 17.
  const auto changed = reweigh(sheet, Weights{8, 6, 3, 3});
  const double expected = 100.0 / 17.0 * (8 * 0.5 + 6 * 0.75 + 3 * 0.5);
  CHECK(changed.total == Approx(expected).margin(0.05));
  double most = 0.0;
  for (const auto& item : changed.items) most += item.max;
  CHECK(most == Approx(100.0));
  sheet.caps.push_back({1, 39.0, "", {}});
  CHECK(reweigh(sheet, Weights{8, 6, 3, 3}).total == 39);
}

TEST_CASE("a blueprint counts procedure by condition by urgency", "[assessment]") {
  const Result<Circuit> read = parse_circuit(small_circuit());
  Circuit circuit = read.value();
  circuit.stations[2].procedures = {Procedure::cover_uncover, Procedure::history};
  const auto cells = make_blueprint(circuit, {{0, "exophoria", Urgency::routine, false},
                                              {2, "exophoria", Urgency::routine, false}});
  REQUIRE(cells.size() == 3);
  CHECK(cells[0].procedure == Procedure::history);
  CHECK(cells[1].procedure == Procedure::cover_uncover);
  CHECK(cells[1].stations == std::vector<std::size_t>{0, 2});
  CHECK(cells[2].stations == std::vector<std::size_t>{0});
}

TEST_CASE("the engine says that a station is too short and an instrument is missing",
          "[assessment]") {
  json value = circuit_with("/stations/0/time_s", 60);
  value["stations"].erase(2);
  value["stations"].erase(1);
  const Circuit circuit = parse_circuit(value).value();
  const std::string path = support::source_dir() + "/scenarios/x.json";
  const auto forms = program::load_forms(circuit, program::patients_beside(path));
  REQUIRE(forms.ok());
  const PreparedForm prepared = prepare_form(circuit.stations[0], forms.value()[0][0], false);
  CHECK(prepared.reference_marks >= 98.0);  // rubric: a perfect examiner
  const StationCheck station = check_station(circuit, 0, {prepared}, {});
  CHECK(station.forms[0].not_allowed == std::vector{Instrument::horizontal_bar});
  const CircuitCheck check = check_circuit(circuit, {station}, {find_condition(0, prepared.form)});
  const auto concern_at = [&](const std::string& place) -> const Concern* {
    for (const Concern& c : check.concerns) {
      if (c.place == place) return &c;
    }
    return nullptr;
  };
  REQUIRE(concern_at("/stations/0/time_s") != nullptr);
  CHECK(concern_at("/stations/0/time_s")->wrong);
  CHECK(concern_at("/stations/0/instruments") != nullptr);
}

TEST_CASE("the reference examiner has the time that the shipped circuit gives", "[assessment]") {
  const Circuit circuit = program::load_circuit(kExample).value();
  const auto forms = program::load_forms(circuit, program::patients_beside(kExample));
  REQUIRE(forms.ok());
  std::vector<StationCheck> stations;
  std::vector<StationCondition> conditions;
  for (const std::size_t i : find_scored(circuit)) {
    std::vector<PreparedForm> prepared;
    for (const Form& form : forms.value()[i]) {
      prepared.push_back(prepare_form(circuit.stations[i], form, false));
    }
    stations.push_back(check_station(circuit, i, prepared, {}));
    conditions.push_back(find_condition(i, forms.value()[i][0]));
  }
  for (const Concern& c : check_circuit(circuit, stations, conditions).concerns) {
    INFO(c.place << ": " << c.what);
    CHECK_FALSE(c.wrong);
  }
}
