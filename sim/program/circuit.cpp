// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// circuit: what a circuit comes to when the engine tries it.
#include <cstdio>
#include <utility>
#include <vector>

#include <fmt/format.h>

#include "sim/assessment/check_circuit.hpp"
#include "sim/assessment/circuit_file.hpp"
#include "sim/basics/json_reader.hpp"
#include "sim/program/assessment_verbs.hpp"
#include "sim/program/circuit_files.hpp"
#include "sim/program/verbs.hpp"

namespace redress::program {

using namespace assessment;
using nlohmann::ordered_json;

namespace {

std::string clock_text(std::int64_t seconds) {
  return fmt::format("{}:{:02}", seconds / 60, seconds % 60);
}

std::string numbers_of(const std::vector<std::size_t>& stations) {
  std::string all;
  for (const std::size_t s : stations) all += (all.empty() ? "" : ", ") + std::to_string(s + 1);
  return all;
}

std::string percent(const std::optional<double>& share) {
  return share ? fmt::format("{:.0f} %", 100.0 * *share) : "";
}

void print_table(const Circuit& circuit, const CircuitCheck& check) {
  fmt::print("{}\n{} stations, {} with a patient, {} with reading time\n\n", circuit.title,
             circuit.stations.size(), check.stations.size(), clock_text(calc_length_s(circuit)));
  fmt::print("{:<3} {:<28} {:>16} {:>6} {:>8} {:>10} {:>6} {:>6} {:>6} {:>8}\n", "", "station",
             "seed", "time", "reading", "reference", "time", "mean", "pass", "finish");
  for (const StationCheck& station : check.stations) {
    const Station& s = circuit.stations[station.station];
    for (const FormCheck& form : station.forms) {
      fmt::print("{:<3} {:<28} {:>16} {:>6} {:>8} {:>10.1f} {:>6} {:>6} {:>6} {:>8}\n",
                 station.station + 1, s.name, form.seed, clock_text(s.time_s),
                 clock_text(s.reading_s), form.reference_marks,
                 clock_text((form.reference_ms + 999) / 1000),
                 form.mean_marks ? fmt::format("{:.1f}", *form.mean_marks) : "",
                 percent(form.share_passing), percent(form.share_finishing));
    }
  }
  fmt::print("\nBlueprint\n{:<18} {:<44} {:<10} {}\n", "procedure", "condition", "how soon",
             "stations");
  for (const BlueprintCell& cell : check.blueprint) {
    fmt::print("{:<18} {:<44} {:<10} {}\n", find_name(procedure_names(), cell.procedure),
               cell.condition, to_words(cell.urgency), numbers_of(cell.stations));
  }
  if (!check.concerns.empty()) fmt::print("\n");
}

ordered_json to_json_number_or_null(const std::optional<double>& value) {
  return value ? ordered_json(*value) : ordered_json(nullptr);
}

ordered_json to_json(const Circuit& circuit, const CircuitCheck& check) {
  ordered_json out{{"title", circuit.title},
                   {"length_s", calc_length_s(circuit)},
                   {"stations", ordered_json::array()},
                   {"blueprint", ordered_json::array()},
                   {"concerns", ordered_json::array()}};
  for (const StationCheck& station : check.stations) {
    ordered_json forms = ordered_json::array();
    for (const FormCheck& form : station.forms) {
      ordered_json names = ordered_json::array();
      for (const Instrument i : form.not_allowed) {
        names.push_back(std::string(find_name(instrument_names(), i)));
      }
      forms.push_back({{"seed", form.seed},
                       {"reference_marks", form.reference_marks},
                       {"reference_ms", form.reference_ms},
                       {"not_allowed", names},
                       {"mean_marks", to_json_number_or_null(form.mean_marks)},
                       {"share_passing", to_json_number_or_null(form.share_passing)},
                       {"share_finishing", to_json_number_or_null(form.share_finishing)}});
    }
    out["stations"].push_back({{"station", station.station + 1},
                               {"name", circuit.stations[station.station].name},
                               {"forms", forms}});
  }
  for (const BlueprintCell& cell : check.blueprint) {
    ordered_json stations = ordered_json::array();
    for (const std::size_t s : cell.stations) stations.push_back(s + 1);
    out["blueprint"].push_back(
        {{"procedure", std::string(find_name(procedure_names(), cell.procedure))},
         {"condition", cell.condition},
         {"urgency", to_words(cell.urgency)},
         {"stations", stations}});
  }
  for (const Concern& c : check.concerns) {
    out["concerns"].push_back(
        {{"place", c.place}, {"wrong", c.wrong}, {"what", c.what}, {"remedy", c.remedy}});
  }
  return out;
}

}  // namespace

int validate_circuit(const std::string& path) {
  const Result<Circuit> circuit = load_circuit(path);
  if (!circuit) return report(path, circuit.problems());
  const auto forms = load_forms(circuit.value(), patients_beside(path));
  if (!forms) return report(path, forms.problems());
  fmt::print("{}: a valid circuit of {} stations\n", path, circuit.value().stations.size());
  return 0;
}

int try_circuit(const CircuitOptions& options) {
  const std::string& path = options.circuit_path;
  const Result<SkillMix> mix = parse_skill_mix(options.skill);
  if (!mix) return report("circuit", mix.problems());
  const Result<Circuit> loaded = load_circuit(path);
  if (!loaded) return report(path, loaded.problems());
  const Circuit& circuit = loaded.value();
  auto forms = load_forms(circuit, patients_beside(path));
  if (!forms) return report(path, forms.problems());

  std::vector<StationCheck> stations;
  std::vector<StationCondition> conditions;
  for (const std::size_t i : find_scored(circuit)) {
    conditions.push_back(find_condition(i, forms.value()[i].front()));
    std::vector<PreparedForm> prepared;
    for (const Form& form : forms.value()[i]) {
      prepared.push_back(prepare_form(circuit.stations[i], form, options.candidates > 0));
    }
    stations.push_back(
        check_station(circuit, i, prepared, {options.candidates, mix.value(), options.seed}));
  }
  const CircuitCheck check = check_circuit(circuit, std::move(stations), conditions);
  if (options.as_json) {
    fmt::print("{}\n", to_json(circuit, check).dump(2));
  } else {
    print_table(circuit, check);
  }
  int code = 0;
  for (const Concern& c : check.concerns) {
    fmt::print(stderr, "{}: {}: {}{}; {}\n", path, c.place, c.wrong ? "" : "warning: ", c.what,
               c.remedy);
    if (c.wrong) code = 1;
  }
  return code;
}

}  // namespace redress::program
