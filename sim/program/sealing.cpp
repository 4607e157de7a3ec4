// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// seal, sealed, sit, open: from a circuit to what a workstation keeps, and back.
#include <algorithm>
#include <cstdio>
#include <string>
#include <utility>

#include <fmt/format.h>

#include "sim/assessment/resume_station.hpp"
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
#include "sim/record/close_record.hpp"
#include "sim/record/record_file.hpp"

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

struct Sitting {
  std::vector<Act> acts;
  Tick until = 0;
};

// What the candidate does: the list that was handed over, or the reference examiner's.
Result<Sitting> find_acts(const SitOptions& options, const Form& form,
                          const ExaminationSetup& setup, Tick hard_stop) {
  Sitting sitting;
  sitting.until = hard_stop;
  if (options.acts_path.empty()) {
    examiners::Habits habits;
    habits.near_m = form.content.patient.near_working_distance.value;
    habits.age_years = form.content.patient.age_years;
    habits.owns_spectacles = form.content.spectacles.owned();
    Examination exam(setup, {form.seed, 1.0, true});
    examiners::Examined examined = examiners::examine(exam, habits);
    sitting.acts = std::move(examined.acts);
    sitting.until = std::min(examined.until, hard_stop);
    return sitting;
  }
  const Result<std::string> text = read_file(options.acts_path);
  Result<std::vector<Act>> read =
      text ? record::parse_acts(text.value()) : Result<std::vector<Act>>(text.problems());
  if (!read) {
    Problems problems = read.problems();
    for (Problem& p : problems)
      p.place = options.acts_path + (p.place.empty() ? "" : ": " + p.place);
    return problems;
  }
  sitting.acts = std::move(read).value();
  return sitting;
}

// How many of the acts were done before the crash: those that were kept, or none of a list that
// begins where the station stopped.
Result<std::size_t> find_done(const std::vector<Act>& acts, const std::vector<Act>& kept,
                              Tick used_ms) {
  if (std::all_of(acts.begin(), acts.end(), [&](const Act& a) { return a.at_ms >= used_ms; })) {
    return std::size_t{0};
  }
  for (std::size_t i = 0; i < kept.size(); ++i) {
    if (i < acts.size() && record::format_act(acts[i]) == record::format_act(kept[i])) continue;
    return Problems{{fmt::format("act {}", i + 1),
                     fmt::format("is another than was kept; allowed: the acts that were kept, or "
                                 "only acts from {} ms on",
                                 used_ms)}};
  }
  return kept.size();
}

int conclude(const SitOptions& options, const StationWriter& writer, const std::string& what) {
  if (const auto problem = writer.problem()) return report(options.out_path, *problem);
  fmt::print("{}: candidate {}, station {}, {}\n", options.out_path, options.candidate,
             options.station, what);
  return 0;
}

int sit_first(const SitOptions& options, const OpenedCircuit& o, const StationIdentity& identity) {
  const std::vector<Form>& forms = o.forms[identity.station];
  const Form& form =
      forms[find_form(to_text(o.keys.id()), options.candidate, identity.station, forms.size())];
  const ExaminationSetup setup = setup_of(form.content);
  const Tick hard_stop = calc_hard_stop(o.circuit.stations[identity.station], {});
  const Result<Sitting> sitting = find_acts(options, form, setup, hard_stop);
  if (!sitting) return report("sit", sitting.problems());
  const WorkstationKey key = make_workstation_key(o.keys, options.workstation);
  StationWriter writer(options.out_path, identity, key,
                       record::make_header(form.written, form.seed, 1.0), true);
  if (writer.problem()) return conclude(options, writer, "");
  const auto& [acts, until] = sitting.value();
  Examination exam(setup, {form.seed, 1.0, true}, first_target(acts));
  sit_on(exam, acts, 0, until, false, writer);
  return conclude(options, writer, "kept");
}

int sit_again(const SitOptions& options, const OpenedCircuit& o, const StationIdentity& identity) {
  const Result<std::string> text = read_file(options.out_path);
  if (!text) return report(options.out_path, text.problems());
  const auto station = read_resumable(text.value(), o, identity);
  if (!station) return report(options.out_path, station.problems());
  const ResumableStation& s = station.value();
  const Form& form = o.forms[identity.station][s.form];
  const ExaminationSetup setup = setup_of(form.content);
  const record::RecordHeader header = record::make_header(form.written, form.seed, 1.0);
  const StationVerdict& verdict = s.opened.verdict;
  const Tick hard_stop = calc_hard_stop(o.circuit.stations[identity.station], verdict.events);
  const Result<Sitting> sitting = find_acts(options, form, setup, hard_stop);
  if (!sitting) return report("sit", sitting.problems());
  const auto& [acts, until] = sitting.value();

  const bool begun = s.has_begun();
  const record::Record kept = s.cut ? s.cut->record : record::Record{};
  const auto done = find_done(acts, kept.acts, verdict.used_ms);
  if (!done) return report("sit", done.problems());
  Result<Examination> found = begun
                                  ? resume_examination(kept, setup)
                                  : Examination(setup, {form.seed, 1.0, true}, first_target(acts));
  if (!found) return report(options.out_path, found.problems());
  Examination exam = std::move(found).value();
  const WorkstationKey key = make_workstation_key(o.keys, options.workstation);
  StationWriter writer(options.out_path, s, header, key, true);
  if (writer.problem()) return conclude(options, writer, "");
  sit_on(exam, acts, done.value(), std::max(until, exam.now()), begun, writer);
  return conclude(options, writer,
                  fmt::format("resumed at {}.{:03} s used, kept", verdict.used_ms / 1000,
                              verdict.used_ms % 1000));
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
  const StationIdentity identity{o.keys.id(), options.workstation, options.candidate, number};
  return options.resume ? sit_again(options, o, identity) : sit_first(options, o, identity);
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
  // What was cut short replays and scores as far as it goes; the kept station is the evidence.
  const auto record = record::close_record(opened.value().record);
  if (!record) return report(options.station_path, record.problems());
  if (const auto problem = write_whole_file(options.record_path, record.value())) {
    return report(options.record_path, *problem);
  }
  fmt::print("{}: candidate {}, station {}: {}{}\n", options.station_path,
             opened.value().verdict.identity.candidate, opened.value().verdict.identity.station + 1,
             opened.value().verdict.message,
             opened.value().verdict.intact() ? "" : "; the record ends there");
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
