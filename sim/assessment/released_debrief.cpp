// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/assessment/released_debrief.hpp"

#include <fmt/format.h>

#include "sim/assessment/kept_station.hpp"
#include "sim/assessment/station_mark.hpp"
#include "sim/basics/json_reader.hpp"
#include "sim/record/close_record.hpp"
#include "sim/record/record_file.hpp"

namespace redress::assessment {

using nlohmann::json;
using nlohmann::ordered_json;

namespace {

constexpr std::int64_t kVersion = 1;
constexpr std::size_t kLongestRecord = 200'000'000;
constexpr NamedValue<scoring::Column> kColumns[] = {{"P", scoring::Column::formative},
                                                    {"O", scoring::Column::station}};

std::optional<scoring::Item> find_item(std::string_view name) {
  for (const scoring::RubricLine& line : scoring::kRubric) {
    if (name == line.name) return line.item;
  }
  return std::nullopt;
}

std::vector<OverruledItem> read_overruled(ObjectReader& reader, Problems& problems) {
  std::vector<OverruledItem> list;
  const json* array = reader.required_array("overruled", 0, scoring::kItemCount);
  for (std::size_t i = 0; array != nullptr && i < array->size(); ++i) {
    ObjectReader one((*array)[i], fmt::format("/overruled/{}", i), problems);
    OverruledItem item;
    const std::string name = one.required_string("item", 8).value_or("A1");
    const auto found = find_item(name);
    if (!found) one.report("item", "is " + short_text(json(name)) + "; allowed: an item's name");
    item.item = found.value_or(scoring::Item::a1);
    item.marks = one.required_number("marks", 0.0, 100.0).value_or(0.0);
    const json* reasons = one.required_array("reasons", 0, 100);
    for (std::size_t k = 0; reasons != nullptr && k < reasons->size(); ++k) {
      if ((*reasons)[k].is_string()) {
        item.reasons.push_back((*reasons)[k].get<std::string>());
      } else {
        one.report("reasons", "holds " + short_text((*reasons)[k]) + "; allowed: words");
      }
    }
    one.finish();
    list.push_back(std::move(item));
  }
  return list;
}

std::optional<Weights> read_weights(ObjectReader& reader) {
  if (!reader.has("weights")) return std::nullopt;
  ObjectReader weights = reader.object("weights");
  Weights read;
  read.findings = weights.required_number("findings", 0.0, 1000.0).value_or(0.0);
  read.technique = weights.required_number("technique", 0.0, 1000.0).value_or(0.0);
  read.reasoning = weights.required_number("reasoning", 0.0, 1000.0).value_or(0.0);
  read.conclusion = weights.required_number("conclusion", 0.0, 1000.0).value_or(0.0);
  weights.finish();
  return read;
}

}  // namespace

scoring::ScoreSheet StationMarking::apply(scoring::ScoreSheet sheet) const {
  sheet = reweigh(std::move(sheet), weights);
  for (const OverruledItem& over : overruled) {
    for (scoring::ItemScore& item : sheet.items) {
      if (item.item != over.item) continue;
      std::string why = fmt::format("The engine gave {:.1f}.", item.marks);
      for (const std::string& reason : over.reasons) why += " Overruled by " + reason + ".";
      item.marks = std::min(over.marks, item.max);
      item.grade = item.marks >= item.max ? scoring::Grade::full
                   : item.marks > 0.0     ? scoring::Grade::half
                                          : scoring::Grade::none;
      item.why = why;
    }
  }
  if (total) sheet.total = *total;
  return sheet;
}

StationMarking find_marking(const Station& station, const FinalMarks& marks) {
  StationMarking marking{station.column, station.weights, {}, marks.total};
  for (const FinalItem& item : marks.items) {
    if (item.reasons.empty()) continue;
    marking.overruled.push_back({item.item, item.final, item.reasons});
  }
  return marking;
}

Result<ReleasedDebrief> release_debrief(std::string_view kept_station, const OpenedCircuit& circuit,
                                        const FinalMarks& marks) {
  const auto opened = open_station(kept_station, circuit.keys);
  if (!opened) return opened.problems();
  auto closed = record::close_record(opened.value().record);
  if (!closed) return closed.problems();
  const StationIdentity& identity = opened.value().verdict.identity;
  if (identity.station >= circuit.circuit.stations.size()) {
    return Problems{{"", fmt::format("is of station {}; allowed: 1 ... {}", identity.station + 1,
                                     circuit.circuit.stations.size())}};
  }
  return ReleasedDebrief{to_short_text(circuit.keys.id()),
                         identity.candidate,
                         identity.station,
                         find_marking(circuit.circuit.stations[identity.station], marks),
                         marks.unsafe,
                         std::move(closed).value()};
}

std::string to_text(const ReleasedDebrief& released) {
  const StationMarking& m = released.marking;
  ordered_json out{
      {"format", "redress-debrief"},     {"version", kVersion},
      {"circuit", released.circuit},     {"candidate", released.candidate},
      {"station", released.station + 1}, {"rubric", std::string(find_name(kColumns, m.column))}};
  if (m.weights) {
    out["weights"] = {{"findings", m.weights->findings},
                      {"technique", m.weights->technique},
                      {"reasoning", m.weights->reasoning},
                      {"conclusion", m.weights->conclusion}};
  }
  out["overruled"] = ordered_json::array();
  for (const OverruledItem& item : m.overruled) {
    out["overruled"].push_back(
        {{"item", scoring::kRubric[static_cast<std::size_t>(item.item)].name},
         {"marks", item.marks},
         {"reasons", item.reasons}});
  }
  if (m.total) out["total"] = *m.total;
  out["unsafe"] = released.unsafe;
  out["record"] = released.record;
  return out.dump(1) + "\n";
}

Result<ReleasedDebrief> read_released(std::string_view text) {
  const Result<json> value = parse_json(text);
  if (!value) return value.problems();
  if (!value.value().is_object() || value.value().value("format", json()) != "redress-debrief") {
    return Problems{{"/format", "is no released debrief; allowed: redress-debrief"}};
  }
  Problems problems;
  ObjectReader reader(value.value(), "", problems);
  (void)reader.raw("format");
  const auto version = reader.required_integer("version", 1, 1'000'000);
  if (version && *version > kVersion) {
    return Problems{{"/version", fmt::format("is {}: it was written by a newer version; this one "
                                             "reads {}",
                                             *version, kVersion)}};
  }
  ReleasedDebrief released;
  released.circuit = reader.required_string("circuit", 200).value_or("");
  released.candidate = reader.required_string("candidate", 400).value_or("");
  released.station =
      static_cast<std::size_t>(reader.required_integer("station", 1, 60).value_or(1) - 1);
  released.marking.column =
      reader.required_enumerated("rubric", kColumns).value_or(scoring::Column::station);
  released.marking.weights = read_weights(reader);
  released.marking.overruled = read_overruled(reader, problems);
  released.marking.total = reader.optional_number("total", 0.0, 100.0);
  released.unsafe = reader.required_boolean("unsafe").value_or(false);
  released.record = reader.required_string("record", kLongestRecord).value_or("");
  reader.finish();
  if (!problems.empty()) return problems;
  if (const auto record = record::read_record(released.record); !record) {
    Problems of_record = record.problems();
    for (Problem& p : of_record) p.place = "/record" + (p.place.empty() ? "" : ": " + p.place);
    return of_record;
  }
  return released;
}

std::string make_released_name(const std::string& candidate, std::size_t station) {
  return fmt::format("{}-{}.debrief", candidate, station + 1);
}

}  // namespace redress::assessment
