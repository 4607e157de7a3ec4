// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// seal, sealed, sit, open: from a circuit to what a workstation keeps, and back.
#include <algorithm>
#include <cstdio>
#include <string>
#include <utility>

#include <fmt/format.h>

#include "sim/assessment/sealed_circuit.hpp"
#include "sim/assessment/station_writer.hpp"
#include "sim/basics/file.hpp"
#include "sim/cases/setup.hpp"
#include "sim/examiners/examine.hpp"
#include "sim/program/assessment_verbs.hpp"
#include "sim/program/circuit_files.hpp"
#include "sim/program/passphrase.hpp"
#include "sim/program/verbs.hpp"
#include "sim/record/act_json.hpp"
#include "sim/record/record_file.hpp"
#include "sim/record/run.hpp"

namespace redress::program {

using namespace assessment;

namespace {

std::optional<Problem> check_station(const OpenedCircuit& opened, std::int64_t number) {
  const auto count = static_cast<std::int64_t>(opened.circuit.stations.size());
  if (number >= 1 && number <= count &&
      !opened.circuit.stations[static_cast<std::size_t>(number - 1)].rest) {
    return std::nullopt;
  }
  return Problem{"", fmt::format("station {} has no patient; allowed: one of 1 ... {} that is no "
                                 "rest",
                                 number, count)};
}

}  // namespace

int seal(const SealOptions& options) {
  const std::string& path = options.circuit_path;
  if (const auto problem = check_paths({path}, {options.out_path})) return report("seal", *problem);
  const Result<Circuit> circuit = load_circuit(path);
  if (!circuit) return report(path, circuit.problems());
  const auto forms = load_forms(circuit.value(), patients_beside(path));
  if (!forms) return report(path, forms.problems());
  const LockedBytes passphrase = ask_passphrase();
  const auto sealed = seal_circuit(circuit.value(), forms.value(), passphrase.text());
  if (!sealed) return report(path, sealed.problems());
  if (const auto problem = write_whole_file(options.out_path, sealed.value())) {
    return report(options.out_path, *problem);
  }
  fmt::print("{}: sealed as circuit {}\n", options.out_path,
             to_short_text(read_circuit_id(sealed.value()).value()));
  return 0;
}

int inspect_sealed(const SealedOptions& options) {
  const auto opened = open_with_passphrase(options.sealed_path);
  if (!opened) return report(options.sealed_path, opened.problems());
  const OpenedCircuit& o = opened.value();
  fmt::print("{}: circuit {}, {}, {} stations, sealed by version {}\n", options.sealed_path,
             to_short_text(o.keys.id()), o.circuit.title, o.circuit.stations.size(), o.engine);
  if (options.against_path.empty()) return 0;
  const Result<Circuit> now = load_circuit(options.against_path);
  if (!now) return report(options.against_path, now.problems());
  const Problems changes = find_changes(o, now.value(), patients_beside(options.against_path));
  if (!changes.empty()) return report(options.against_path, changes);
  fmt::print("{}: as it was sealed\n", options.against_path);
  return 0;
}

int sit(const SitOptions& options) {
  const auto opened = open_with_passphrase(options.sealed_path);
  if (!opened) return report(options.sealed_path, opened.problems());
  const OpenedCircuit& o = opened.value();
  if (const auto problem = check_station(o, options.station)) {
    return report(options.sealed_path, *problem);
  }
  const auto number = static_cast<std::size_t>(options.station - 1);
  const Station& station = o.circuit.stations[number];
  const std::size_t which =
      find_form(to_text(o.keys.id()), options.candidate, number, o.forms[number].size());
  const Form& form = o.forms[number][which];
  const ExaminationSetup setup = setup_of(form.content);
  const Chance chance{form.seed, 1.0, true};
  const Tick hard_stop = station.time_s * 1000;

  std::vector<Act> acts;
  Tick until = hard_stop;
  if (options.acts_path.empty()) {
    examiners::Habits habits;
    habits.near_m = form.content.patient.near_working_distance.value;
    habits.age_years = form.content.patient.age_years;
    habits.owns_spectacles = form.content.spectacles.owned();
    Examination exam(setup, chance);
    examiners::Examined examined = examiners::examine(exam, habits);
    acts = std::move(examined.acts);
    until = std::min(examined.until, hard_stop);
  } else {
    const Result<std::string> text = read_file(options.acts_path);
    if (!text) return report(options.acts_path, text.problems());
    Result<std::vector<Act>> read = record::parse_acts(text.value());
    if (!read) return report(options.acts_path, read.problems());
    acts = std::move(read).value();
  }
  const WorkstationKey key = make_workstation_key(o.keys, options.workstation);
  StationWriter writer(options.out_path,
                       {o.keys.id(), options.workstation, options.candidate, number}, key,
                       record::make_header(form.written, form.seed, 1.0), false);
  if (const auto problem = writer.problem()) return report(options.out_path, *problem);
  record::RunOptions run_options;
  run_options.chance = chance;
  run_options.until_ms = until;
  record::run(setup, acts, run_options, writer);
  if (const auto problem = writer.problem()) return report(options.out_path, *problem);
  fmt::print("{}: candidate {}, station {}, kept\n", options.out_path, options.candidate,
             options.station);
  return 0;
}

int open_kept(const OpenOptions& options) {
  if (const auto problem =
          check_paths({options.station_path, options.sealed_path}, {options.record_path})) {
    return report("open", *problem);
  }
  const Result<std::string> text = read_file(options.station_path);
  if (!text) return report(options.station_path, text.problems());
  const auto circuit = open_with_passphrase(options.sealed_path);
  if (!circuit) return report(options.sealed_path, circuit.problems());
  const auto opened = open_station(text.value(), circuit.value().keys);
  if (!opened) return report(options.station_path, opened.problems());
  if (const auto problem = write_whole_file(options.record_path, opened.value().record)) {
    return report(options.record_path, *problem);
  }
  fmt::print("{}: candidate {}, station {}: {}\n", options.station_path,
             opened.value().verdict.identity.candidate, opened.value().verdict.identity.station + 1,
             opened.value().verdict.message);
  for (const DeskEvent& event : opened.value().verdict.events) {
    fmt::print("  {} ms: {} {}\n", event.at_ms, event.what, event.detail.dump());
  }
  return 0;
}

int verify_kept(const std::string& path, const std::string& text, const std::string& sealed_path) {
  std::optional<CircuitId> id;
  if (!sealed_path.empty()) {
    const Result<std::string> sealed = read_file(sealed_path);
    if (!sealed) return report(sealed_path, sealed.problems());
    const Result<CircuitId> read = read_circuit_id(sealed.value());
    if (!read) return report(sealed_path, read.problems());
    id = read.value();
  }
  const StationVerdict verdict = verify_station(text, id);
  if (!verdict.intact()) return report(path, Problem{"", verdict.message});
  fmt::print("{}: {}\n", path, verdict.message);
  return 0;
}

}  // namespace redress::program
