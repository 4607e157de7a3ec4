// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/assessment/station_score.hpp"

#include <algorithm>
#include <utility>

#include "sim/assessment/clocks.hpp"
#include "sim/assessment/sitting.hpp"
#include "sim/assessment/station_mark.hpp"
#include "sim/basics/json_reader.hpp"
#include "sim/cases/setup.hpp"
#include "sim/findings/evidence.hpp"
#include "sim/record/record_file.hpp"
#include "sim/record/replay.hpp"
#include "sim/truth/truth.hpp"

namespace redress::assessment {

using nlohmann::json;
using nlohmann::ordered_json;

ScoringForm prepare_scoring(const Form& form) {
  ScoringForm prepared;
  prepared.setup = setup_of(form.content);
  const CasePatient& patient = form.content.patient;
  prepared.truth = truth::calc_truth(
      prepared.setup, {patient.screen_distance.value, patient.near_working_distance.value},
      {.gaze = true, .reserves = false, .near_point = false});
  return prepared;
}

Result<StationScore> score_station(std::string_view content, const OpenedCircuit& circuit,
                                   const ScoringForms* prepared) {
  const auto opened = open_station(content, circuit.keys);
  if (!opened) return opened.problems();
  const std::size_t number = opened.value().verdict.identity.station;
  if (number >= circuit.forms.size() || circuit.forms[number].empty()) {
    return Problems{{"", "is of station " + std::to_string(number + 1) +
                             ", which has no patient in this circuit"}};
  }
  const auto cut = record::read_cut_record(opened.value().record);
  if (!cut) return cut.problems();
  const record::Record& record = cut.value().record;
  const auto& forms = circuit.forms[number];
  const auto form = std::find_if(forms.begin(), forms.end(), [&](const Form& f) {
    return f.seed == record.header.seed && f.written == record.header.the_case;
  });
  if (form == forms.end()) {
    return Problems{{"", "holds another patient than was sealed for its station"}};
  }
  const Station& station = circuit.circuit.stations[number];
  ScoringForm own;
  if (prepared == nullptr) own = prepare_scoring(*form);
  const auto& [setup, truth] =
      prepared == nullptr ? own
                          : (*prepared)[number][static_cast<std::size_t>(form - forms.begin())];
  const Chance chance{record.header.seed, record.header.noise, true};
  findings::Evidence evidence =
      findings::gather_evidence(setup, record.acts, chance, record::calc_last_tick(record));
  StationScore score;
  score.sizes = find_sizes(evidence, truth);
  score.sheet =
      reweigh(scoring::calc_score(form->content, setup, std::move(evidence), truth, station.column),
              station.weights);
  const StationVerdict& verdict = opened.value().verdict;
  score.finished =
      verdict.intact() && verdict.used_ms < calc_station_ms(station, read_terms(verdict.events));
  score.resumptions = verdict.resumptions;
  score.clock_faults = static_cast<int>(find_clock_faults(verdict.events).size());
  for (const DeskEvent& event : verdict.events) {
    if (const auto reading = find_reading(event)) {
      if (score.began_utc_ms == 0) score.began_utc_ms = reading->utc_ms;
      score.ended_utc_ms = reading->utc_ms;
    }
    const auto still = event.detail.find("ms");
    if (event.what == "stood_still" && still != event.detail.end() && still->is_number_integer()) {
      score.stood_still_ms += std::clamp(still->get<Tick>(), Tick{0}, record::kLatestEnd);
    }
    if (event.what != "left_window") continue;
    ++score.left_window;
    const auto away = event.detail.find("for_ms");
    if (away != event.detail.end() && away->is_number_integer()) {
      score.out_of_window_ms += std::clamp(away->get<Tick>(), Tick{0}, record::kLatestEnd);
    }
  }
  return score;
}

std::string to_text(const StationScore& score) {
  ordered_json items = ordered_json::array();
  for (const scoring::ItemScore& item : score.sheet.items) {
    items.push_back({item.max, item.marks});
  }
  ordered_json caps = ordered_json::array();
  for (const scoring::Cap& cap : score.sheet.caps) caps.push_back({cap.rule, cap.limit});
  ordered_json sizes = ordered_json::array();
  for (const SizePair& s : score.sizes) sizes.push_back({s.written_pd, s.true_pd});
  return ordered_json{
      {"total", score.sheet.total},
      {"unsafe", score.sheet.unsafe},
      {"finished", score.finished},
      {"items", items},
      {"caps", caps},
      {"sizes", sizes},
      {"desk", {score.resumptions, score.left_window, score.out_of_window_ms}},
      {"clock", {score.clock_faults, score.stood_still_ms, score.began_utc_ms, score.ended_utc_ms}}}
      .dump();
}

Result<StationScore> parse_station_score(std::string_view text) {
  const Result<json> value = parse_json(text);
  if (!value) return value.problems();
  Problems problems;
  ObjectReader reader(value.value(), "", problems);
  StationScore score;
  score.sheet.total = reader.required_number("total", 0.0, 100.0).value_or(0.0);
  score.sheet.unsafe = reader.required_boolean("unsafe").value_or(false);
  score.finished = reader.required_boolean("finished").value_or(false);
  const auto pairs = [&](std::string_view key, std::size_t least, std::size_t most) {
    std::vector<std::pair<double, double>> list;
    const json* array = reader.required_array(key, least, most);
    for (std::size_t i = 0; array != nullptr && i < array->size(); ++i) {
      const json& pair = (*array)[i];
      if (!pair.is_array() || pair.size() != 2 || !pair[0].is_number() || !pair[1].is_number()) {
        reader.report(key, "holds " + short_text(pair) + "; allowed: pairs of numbers");
        break;
      }
      list.emplace_back(pair[0].get<double>(), pair[1].get<double>());
    }
    return list;
  };
  const auto items = pairs("items", scoring::kItemCount, scoring::kItemCount);
  for (std::size_t i = 0; i < items.size(); ++i) {
    scoring::ItemScore item;
    item.item = static_cast<scoring::Item>(i);
    item.max = items[i].first;
    item.marks = items[i].second;
    score.sheet.items.push_back(std::move(item));
  }
  for (const auto& [rule, limit] : pairs("caps", 0, 100)) {
    score.sheet.caps.push_back({static_cast<int>(rule), limit, {}, {}});
  }
  for (const auto& [written, there] : pairs("sizes", 0, 10'000)) {
    score.sizes.push_back({written, there});
  }
  const auto number = [](const json& v) {
    return v.is_number_unsigned() ? v.get<Tick>() : Tick{0};
  };
  // Scores of an older version do not have these.
  if (reader.has("desk")) {
    const json* desk = reader.required_array("desk", 3, 3);
    if (desk != nullptr && desk->size() == 3) {
      score.resumptions = static_cast<int>(number((*desk)[0]));
      score.left_window = static_cast<int>(number((*desk)[1]));
      score.out_of_window_ms = number((*desk)[2]);
    }
  }
  if (reader.has("clock")) {
    const json* clock = reader.required_array("clock", 4, 4);
    if (clock != nullptr && clock->size() == 4) {
      score.clock_faults = static_cast<int>(number((*clock)[0]));
      score.stood_still_ms = number((*clock)[1]);
      score.began_utc_ms = number((*clock)[2]);
      score.ended_utc_ms = number((*clock)[3]);
    }
  }
  reader.finish();
  if (!problems.empty()) return problems;
  return score;
}

}  // namespace redress::assessment
