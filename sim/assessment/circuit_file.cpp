// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/assessment/circuit_file.hpp"

#include <algorithm>
#include <string>
#include <utility>

#include "sim/record/record_format.hpp"

namespace redress::assessment {

namespace {

using nlohmann::json;
using nlohmann::ordered_json;
using scoring::Column;

constexpr std::size_t kShortText = 200;
constexpr std::size_t kLongText = 4000;
constexpr std::size_t kMostStations = 60;
constexpr std::size_t kMostForms = 200;
constexpr std::size_t kMostTasks = 12;
constexpr std::size_t kMostJudges = 50;
constexpr std::int64_t kLongestReadingS = 900;
constexpr std::int64_t kShortestStationS = 30;
constexpr std::int64_t kLongestStationS = 7200;
constexpr double kMostWeight = 1000.0;

constexpr NamedValue<Instrument> kInstruments[] = {
    {"opaque_occluder", Instrument::opaque_occluder},
    {"translucent_occluder", Instrument::translucent_occluder},
    {"horizontal_bar", Instrument::horizontal_bar},
    {"vertical_bar", Instrument::vertical_bar},
    {"loose_prisms", Instrument::loose_prisms},
    {"trial_lenses", Instrument::trial_lenses},
    {"spectacles", Instrument::spectacles},
    {"penlight", Instrument::penlight},
    {"ruler", Instrument::ruler}};
constexpr NamedValue<Procedure> kProcedures[] = {{"history", Procedure::history},
                                                 {"cover_uncover", Procedure::cover_uncover},
                                                 {"alternate_cover", Procedure::alternate_cover},
                                                 {"prism_cover", Procedure::prism_cover},
                                                 {"four_dioptre", Procedure::four_dioptre},
                                                 {"motility", Procedure::motility},
                                                 {"head_tilt", Procedure::head_tilt},
                                                 {"near_point", Procedure::near_point},
                                                 {"reserves", Procedure::reserves},
                                                 {"ac_a", Procedure::ac_a}};
constexpr NamedValue<StandardMethod> kStandards[] = {
    {"fixed", StandardMethod::fixed},
    {"angoff", StandardMethod::angoff},
    {"borderline_regression", StandardMethod::borderline_regression}};
constexpr NamedValue<Column> kColumns[] = {{"formative", Column::formative},
                                           {"station", Column::station}};

template <class E>
std::string words_of(std::span<const NamedValue<E>> names) {
  std::string all;
  for (const auto& entry : names) all += (all.empty() ? "" : ", ") + std::string(entry.name);
  return all;
}

// A list of words, each at most once.
template <class E>
std::vector<E> read_words(ObjectReader& reader, std::string_view key,
                          std::span<const NamedValue<E>> names) {
  std::vector<E> values;
  const json* list = reader.array(key, 1, names.size());
  if (list == nullptr) return values;
  for (std::size_t i = 0; i < list->size(); ++i) {
    const json& word = (*list)[i];
    const std::string place = pointer_to(reader.place_of(key), i);
    const auto found = std::find_if(names.begin(), names.end(),
                                    [&](const auto& entry) { return word == entry.name; });
    if (found == names.end()) {
      reader.problems().push_back(
          {place, "is " + short_text(word) + "; allowed: " + words_of(names)});
    } else if (std::find(values.begin(), values.end(), found->value) != values.end()) {
      reader.problems().push_back({place, "is " + short_text(word) + " again; allowed: once"});
    } else {
      values.push_back(found->value);
    }
  }
  return values;
}

std::vector<std::string> read_tasks(ObjectReader& reader) {
  std::vector<std::string> tasks;
  const json* list = reader.required_array("tasks", 1, kMostTasks);
  if (list == nullptr) return tasks;
  for (std::size_t i = 0; i < list->size(); ++i) {
    const json& task = (*list)[i];
    const std::string place = pointer_to(reader.place_of("tasks"), i);
    if (!task.is_string() || task.get_ref<const std::string&>().empty() ||
        task.get_ref<const std::string&>().size() > kLongText) {
      reader.problems().push_back({place, "is " + short_text(task) + "; allowed: a text of 1 to " +
                                              std::to_string(kLongText) + " bytes"});
    } else {
      tasks.push_back(task.get<std::string>());
    }
  }
  return tasks;
}

std::vector<std::uint64_t> read_seeds(ObjectReader& reader) {
  std::vector<std::uint64_t> seeds;
  const json* list = reader.array("seeds", 1, kMostForms);
  if (list == nullptr) return {1};
  for (std::size_t i = 0; i < list->size(); ++i) {
    const json& seed = (*list)[i];
    const std::string place = pointer_to(reader.place_of("seeds"), i);
    if (!seed.is_number_integer() || seed < 0 || seed > record::kLargestSeed) {
      reader.problems().push_back({place, "is " + short_text(seed) +
                                              "; allowed: a whole number 0 ... " +
                                              std::to_string(record::kLargestSeed)});
      continue;
    }
    const auto value = seed.get<std::uint64_t>();
    if (std::find(seeds.begin(), seeds.end(), value) != seeds.end()) {
      reader.problems().push_back(
          {place, "is " + short_text(seed) + " again; allowed: a form of its own"});
      continue;
    }
    seeds.push_back(value);
  }
  return seeds;
}

std::vector<double> read_judges(ObjectReader& reader) {
  std::vector<double> judges;
  const json* list = reader.array("angoff_percent", 1, kMostJudges);
  if (list == nullptr) return judges;
  for (std::size_t i = 0; i < list->size(); ++i) {
    const auto value = read_number((*list)[i], pointer_to(reader.place_of("angoff_percent"), i),
                                   0.0, 100.0, reader.problems());
    if (value) judges.push_back(*value);
  }
  return judges;
}

void read_patient(ObjectReader& reader, Station& station) {
  station.case_path = reader.string("case", kLongText);
  if (reader.has("family")) {
    ObjectReader family = reader.object("family");
    Family read;
    read.diagnosis = family.required_string("diagnosis", kShortText).value_or("");
    read.difficulty = family.number("difficulty", 0.0, 1.0, 0.5);
    family.finish();
    station.family = std::move(read);
  }
  if (station.case_path.empty() == !station.family.has_value()) {
    reader.report(reader.has("case") ? "case" : "",
                  "has " + std::string(station.family ? "a case and a family" : "no patient") +
                      "; allowed: a case or a family");
  }
  if (station.case_path.starts_with("/")) {
    reader.report("case", "is " + short_text(json(station.case_path)) +
                              "; allowed: a path from the circuit's folder");
  }
  station.seeds = read_seeds(reader);
}

void read_weights(ObjectReader& reader, Station& station) {
  if (!reader.has("weights")) return;
  ObjectReader weights = reader.object("weights");
  Weights read;
  read.findings = weights.number("findings", 0.0, kMostWeight, 0.0);
  read.technique = weights.number("technique", 0.0, kMostWeight, 0.0);
  read.reasoning = weights.number("reasoning", 0.0, kMostWeight, 0.0);
  read.conclusion = weights.number("conclusion", 0.0, kMostWeight, 0.0);
  weights.finish();
  if (read == Weights{}) {
    reader.report("weights", "gives no marks at all; allowed: one of them above 0");
  }
  station.weights = read;
}

Station read_rest(ObjectReader& reader) {
  Station rest;
  rest.rest = true;
  rest.name = reader.string("name", kShortText, "Rest");
  rest.reading_s = 0;
  rest.time_s = reader.required_integer("rest_s", kShortestStationS, kLongestStationS)
                    .value_or(kShortestStationS);
  return rest;
}

Station read_station(const json& value, const std::string& place, double pass_mark,
                     Problems& problems) {
  ObjectReader reader(value, place, problems);
  Station station;
  if (reader.has("rest_s")) {
    station = read_rest(reader);
    reader.finish();
    return station;
  }
  if (!reader.is_object()) return station;
  station.name = reader.required_string("name", kShortText).value_or("");
  read_patient(reader, station);
  station.tasks = read_tasks(reader);
  station.procedures = read_words(reader, "procedures", procedure_names());
  station.reading_s = reader.integer("reading_s", 0, kLongestReadingS, 60);
  station.time_s =
      reader.required_integer("time_s", kShortestStationS, kLongestStationS).value_or(300);
  station.column = reader.enumerated("rubric", kColumns, Column::station);
  read_weights(reader, station);
  station.instruments = read_words(reader, "instruments", instrument_names());
  if (!reader.has("instruments")) {
    for (const auto& entry : kInstruments) station.instruments.push_back(entry.value);
  }
  station.magnification = reader.number("magnification", 0.5, 6.0, 2.0);
  station.pass_mark = reader.number("pass_mark", 0.0, 100.0, pass_mark);
  station.safety = reader.boolean("safety", false);
  station.angoff_percent = read_judges(reader);
  reader.finish();
  return station;
}

void check_whole(const Circuit& circuit, Problems& problems) {
  const std::vector<std::size_t> scored = find_scored(circuit);
  if (scored.empty()) {
    problems.push_back({"/stations", "has no station with a patient; allowed: at least one"});
  }
  if (circuit.stations_to_pass > static_cast<std::int64_t>(scored.size())) {
    problems.push_back({"/pass/stations", "is " + std::to_string(circuit.stations_to_pass) +
                                              "; allowed: 0 ... " + std::to_string(scored.size()) +
                                              ", the stations with a patient"});
  }
  for (const std::size_t i : scored) {
    const std::string place = pointer_to("/stations", i);
    const std::string& name = circuit.stations[i].name;
    for (const std::size_t other : scored) {
      if (other < i && circuit.stations[other].name == name) {
        problems.push_back({place + "/name", "is \"" + name +
                                                 "\" again; allowed: a name that no other "
                                                 "station has"});
        break;
      }
    }
    if (circuit.standard == StandardMethod::angoff && circuit.stations[i].angoff_percent.empty()) {
      problems.push_back({place,
                          "has no angoff_percent; allowed with the standard angoff: one "
                          "figure a judge, 0 ... 100"});
    }
  }
}

}  // namespace

std::span<const NamedValue<Instrument>> instrument_names() { return kInstruments; }
std::span<const NamedValue<Procedure>> procedure_names() { return kProcedures; }
std::span<const NamedValue<StandardMethod>> standard_names() { return kStandards; }

Result<Circuit> parse_circuit(const json& value) {
  Problems problems;
  ObjectReader reader(value, "", problems);
  Circuit circuit;
  const auto format = reader.required_string("format", kShortText);
  if (format && *format != kCircuitFormat) {
    reader.report("format", "is " + short_text(json(*format)) + "; allowed: \"" +
                                std::string(kCircuitFormat) + "\"");
  }
  const auto version = reader.required_integer("version", 1, std::int64_t{1} << 31);
  if (version && *version != kCircuitVersion) {
    return Problems{{"/version", "is " + std::to_string(*version) + ", a newer version; allowed: " +
                                     std::to_string(kCircuitVersion)}};
  }
  circuit.title = reader.required_string("title", kShortText).value_or("");
  circuit.note = reader.string("note", kLongText);
  ObjectReader pass = reader.object("pass");
  circuit.standard = pass.enumerated("standard", kStandards, StandardMethod::fixed);
  circuit.pass_mark = pass.number("mark", 0.0, 100.0, scoring::make_default_rubric().station_pass);
  circuit.stations_to_pass = pass.integer("stations", 0, kMostStations, 0);
  pass.finish();
  circuit.forms_within_marks = reader.number("forms_within_marks", 0.0, 100.0, 5.0);
  const json* stations = reader.required_array("stations", 1, kMostStations);
  for (std::size_t i = 0; stations != nullptr && i < stations->size(); ++i) {
    circuit.stations.push_back(
        read_station((*stations)[i], pointer_to("/stations", i), circuit.pass_mark, problems));
  }
  reader.finish();
  if (problems.empty()) check_whole(circuit, problems);
  if (!problems.empty()) return problems;
  return circuit;
}

Result<Circuit> read_circuit_text(std::string_view text) {
  const Result<json> value = parse_json(text);
  if (!value) return value.problems();
  return parse_circuit(value.value());
}

namespace {

ordered_json write_station(const Station& station) {
  ordered_json out = ordered_json::object();
  out["name"] = station.name;
  if (station.rest) {
    out["rest_s"] = station.time_s;
    return out;
  }
  if (station.family) {
    out["family"] = {{"diagnosis", station.family->diagnosis},
                     {"difficulty", to_json_number(station.family->difficulty)}};
  } else {
    out["case"] = station.case_path;
  }
  out["seeds"] = station.seeds;
  out["tasks"] = station.tasks;
  for (const Procedure p : station.procedures) {
    out["procedures"].push_back(std::string(find_name(procedure_names(), p)));
  }
  out["reading_s"] = station.reading_s;
  out["time_s"] = station.time_s;
  out["rubric"] = std::string(find_name(kColumns, station.column));
  if (station.weights) {
    out["weights"] = {{"findings", to_json_number(station.weights->findings)},
                      {"technique", to_json_number(station.weights->technique)},
                      {"reasoning", to_json_number(station.weights->reasoning)},
                      {"conclusion", to_json_number(station.weights->conclusion)}};
  }
  for (const Instrument i : station.instruments) {
    out["instruments"].push_back(std::string(find_name(instrument_names(), i)));
  }
  out["magnification"] = to_json_number(station.magnification);
  out["pass_mark"] = to_json_number(station.pass_mark);
  out["safety"] = station.safety;
  for (const double judge : station.angoff_percent) {
    out["angoff_percent"].push_back(ordered_json(to_json_number(judge)));
  }
  return out;
}

}  // namespace

ordered_json to_json(const Circuit& circuit) {
  ordered_json out = ordered_json::object();
  out["format"] = std::string(kCircuitFormat);
  out["version"] = kCircuitVersion;
  out["title"] = circuit.title;
  out["note"] = circuit.note;
  out["pass"] = {{"standard", std::string(find_name(standard_names(), circuit.standard))},
                 {"mark", to_json_number(circuit.pass_mark)},
                 {"stations", circuit.stations_to_pass}};
  out["forms_within_marks"] = to_json_number(circuit.forms_within_marks);
  out["stations"] = ordered_json::array();
  for (const Station& station : circuit.stations) {
    out["stations"].push_back(write_station(station));
  }
  return out;
}

}  // namespace redress::assessment
