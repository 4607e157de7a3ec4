// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/assessment/resume_station.hpp"

#include <algorithm>
#include <string>
#include <utility>

#include <fmt/format.h>

#include "sim/assessment/sitting.hpp"
#include "sim/record/replay.hpp"
#include "sim/record/run.hpp"

namespace redress::assessment {

namespace {

Problems refuse(std::string why) { return {{"", std::move(why)}}; }

}  // namespace

Result<ResumableStation> read_resumable(std::string_view text, const OpenedCircuit& circuit,
                                        const StationIdentity& wanted) {
  auto opened = open_station(text, circuit.keys);
  if (!opened) return opened.problems();
  const StationVerdict& verdict = opened.value().verdict;
  const StationIdentity& whose = verdict.identity;
  if (whose.candidate != wanted.candidate || whose.station != wanted.station) {
    return refuse(fmt::format("is of candidate {}, station {}; wanted: candidate {}, station {}",
                              whose.candidate, whose.station + 1, wanted.candidate,
                              wanted.station + 1));
  }
  if (verdict.intact()) return refuse("was handed in whole: there is nothing to resume");
  if (whose.station >= circuit.forms.size() || circuit.forms[whose.station].empty()) {
    return refuse(
        fmt::format("is of station {}, which has no patient in this circuit", whose.station + 1));
  }
  const std::vector<Form>& forms = circuit.forms[whose.station];
  ResumableStation station;
  station.opened = std::move(opened).value();
  if (station.opened.record.empty()) {
    station.form =
        find_form(to_text(circuit.keys.id()), whose.candidate, whose.station, forms.size());
    return station;
  }
  auto cut = record::read_cut_record(station.opened.record);
  if (!cut) return cut.problems();
  const record::RecordHeader& header = cut.value().record.header;
  const auto form = std::find_if(forms.begin(), forms.end(), [&](const Form& f) {
    return f.seed == header.seed && f.written == header.the_case;
  });
  if (form == forms.end()) return refuse("holds another patient than was sealed for its station");
  const record::RecordHeader now = record::make_header(form->written, form->seed, header.noise);
  if (header.engine != now.engine || header.arithmetic != now.arithmetic) {
    return refuse(
        fmt::format("was begun by version {} of the engine; allowed: that one, this is {}",
                    header.engine, now.engine));
  }
  station.form = static_cast<std::size_t>(form - forms.begin());
  station.cut = std::move(cut).value();
  return station;
}

Result<Examination> resume_examination(const record::Record& record,
                                       const ExaminationSetup& setup) {
  const Chance chance{record.header.seed, record.header.noise, true};
  Examination exam(setup, chance, first_target(record.acts));
  const Tick last = record::calc_last_tick(record);
  std::size_t next = 0;
  auto state = record.states.begin();
  for (;;) {
    if (state != record.states.end() && state->first == exam.now()) {
      if (state->second != exam.hash()) {
        return refuse(fmt::format(
            "does not come out as it was kept: at {} ms the state is another one", exam.now()));
      }
      ++state;
    }
    for (; next < record.acts.size() && record.acts[next].at_ms <= exam.now(); ++next) {
      exam.apply(record.acts[next].content);
    }
    if (exam.now() >= last) return exam;
    exam.step();
    (void)exam.take_replies();  // they are in the record
  }
}

Tick calc_hard_stop(const Station& station, std::span<const DeskEvent> events) {
  return std::min(calc_station_ms(station, read_terms(events)), record::kLatestEnd);
}

void sit_on(Examination& exam, std::span<const Act> acts, std::size_t done, Tick until,
            bool observed, StationWriter& writer) {
  std::size_t next = done;
  while (!exam.fault()) {
    if (!observed) record::observe_tick(exam, writer);
    observed = false;
    for (; next < acts.size() && acts[next].at_ms <= exam.now(); ++next) {
      record::perform(exam, acts[next], writer);
    }
    if (exam.now() >= until || writer.failed()) break;
    record::finish_tick(exam, writer);
  }
  if (!writer.failed() && !exam.fault()) writer.end(exam.now());
}

}  // namespace redress::assessment
