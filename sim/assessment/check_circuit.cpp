// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/assessment/check_circuit.hpp"

#include <algorithm>
#include <utility>

#include <fmt/format.h>

#include "sim/assessment/circuit_file.hpp"
#include "sim/assessment/sitting.hpp"
#include "sim/basics/json_reader.hpp"

namespace redress::assessment {

namespace {

constexpr double kReferenceShould = 90.0;   // judgement: below, the station or its case is odd
constexpr double kShareOfTime = 0.9;        // judgement: what the reference may use of the time
constexpr std::int64_t kStationStepS = 60;  // times are given in whole minutes
// Difficulty that tells candidates apart: between these (common practice, no source).
constexpr double kEasiest = 0.95;
constexpr double kHardest = 0.20;

std::string minutes(std::int64_t ms) {
  const std::int64_t s = (ms + 999) / 1000;
  return fmt::format("{}:{:02}", s / 60, s % 60);
}

void find_concerns(const Circuit& circuit, const StationCheck& check,
                   std::vector<Concern>& concerns) {
  const Station& station = circuit.stations[check.station];
  const std::string place = pointer_to("/stations", check.station);
  const auto slowest = std::max_element(
      check.forms.begin(), check.forms.end(),
      [](const FormCheck& a, const FormCheck& b) { return a.reference_ms < b.reference_ms; });
  const Tick time_ms = station.time_s * 1000;
  if (static_cast<double>(slowest->reference_ms) > kShareOfTime * static_cast<double>(time_ms)) {
    const std::int64_t give = calc_time_to_give_s(slowest->reference_ms);
    concerns.push_back({place + "/time_s", slowest->reference_ms > time_ms,
                        fmt::format("the reference examiner needs {} of {}",
                                    minutes(slowest->reference_ms), minutes(time_ms)),
                        "give " + minutes(give * 1000)});
  }
  for (const FormCheck& form : check.forms) {
    if (form.reference_marks < kReferenceShould) {
      concerns.push_back({place, true,
                          fmt::format("the reference examiner has {:.1f} marks of 100 with "
                                      "seed {}",
                                      form.reference_marks, form.seed),
                          "look at the case, or at the weights"});
    }
    for (const Instrument instrument : form.not_allowed) {
      const std::string name(find_name(instrument_names(), instrument));
      concerns.push_back({place + "/instruments", false,
                          "the reference examiner used " + name + ", which is not allowed",
                          "allow " + name + ", or leave out the task"});
      break;
    }
    if (form.share_passing && (*form.share_passing > kEasiest || *form.share_passing < kHardest)) {
      concerns.push_back({place, false,
                          fmt::format("{:.0f} % of simulated candidates pass with seed {}",
                                      100.0 * *form.share_passing, form.seed),
                          "it tells few of them apart; a harder or easier patient"});
    }
  }
  const auto [easiest, hardest] = std::minmax_element(
      check.forms.begin(), check.forms.end(), [](const FormCheck& a, const FormCheck& b) {
        return a.mean_marks.value_or(0.0) > b.mean_marks.value_or(0.0);
      });
  const double apart = easiest->mean_marks.value_or(0.0) - hardest->mean_marks.value_or(0.0);
  if (apart > circuit.forms_within_marks) {
    concerns.push_back({place + "/seeds", true,
                        fmt::format("parallel forms are not alike: mean {:.1f} marks with seed "
                                    "{}, {:.1f} with seed {}; allowed: {} apart",
                                    *easiest->mean_marks, easiest->seed, *hardest->mean_marks,
                                    hardest->seed, redress::to_text(circuit.forms_within_marks)),
                        "leave one of them out"});
  }
}

}  // namespace

std::int64_t calc_time_to_give_s(Tick reference_ms) {
  const auto needed =
      static_cast<std::int64_t>(static_cast<double>(reference_ms) / kShareOfTime / 1000.0);
  return (needed / kStationStepS + 1) * kStationStepS;
}

StationCheck check_station(const Circuit& circuit, std::size_t number,
                           const std::vector<PreparedForm>& forms, const TrialRun& trial) {
  const Station& station = circuit.stations.at(number);
  StationCheck check;
  check.station = number;
  for (std::size_t f = 0; f < forms.size(); ++f) {
    const PreparedForm& prepared = forms[f];
    FormCheck form;
    form.seed = station.seeds.at(f);
    form.reference_marks = prepared.reference_marks;
    form.reference_ms = prepared.reference_ms;
    for (const Instrument instrument : prepared.used) {
      if (!allows(station, instrument)) form.not_allowed.push_back(instrument);
    }
    if (trial.candidates > 0) {
      double marks = 0.0;
      double passed = 0.0;
      double finished = 0.0;
      for (std::uint64_t i = 0; i < trial.candidates; ++i) {
        const Attendance a = attend(station, prepared, trial.seed, number,
                                    draw_practitioner(trial.mix, trial.seed, i));
        marks += a.marks;
        passed += a.passed ? 1.0 : 0.0;
        finished += a.finished ? 1.0 : 0.0;
      }
      const auto n = static_cast<double>(trial.candidates);
      form.mean_marks = marks / n;
      form.share_passing = passed / n;
      form.share_finishing = finished / n;
    }
    check.forms.push_back(std::move(form));
  }
  return check;
}

StationCondition find_condition(std::size_t station, const Form& form) {
  const CaseExpected& expected = form.content.expected;
  return {station, expected.diagnosis.empty() ? "not said" : expected.diagnosis, expected.urgency,
          expected.red_flag};
}

CircuitCheck check_circuit(const Circuit& circuit, std::vector<StationCheck> stations,
                           const std::vector<StationCondition>& conditions) {
  CircuitCheck check;
  for (const StationCheck& station : stations) find_concerns(circuit, station, check.concerns);
  for (const StationCondition& c : conditions) {
    const std::string place = pointer_to("/stations", c.station);
    if (c.red_flag && !circuit.stations[c.station].safety) {
      check.concerns.push_back({place + "/safety", false,
                                "the patient has a red flag and the station is no safety station",
                                "make it one"});
    }
    if (!c.urgency) {
      check.concerns.push_back({place, false, "the case says nothing of how soon somebody must act",
                                "give the case its expected urgency"});
    }
    if (circuit.stations[c.station].procedures.empty()) {
      check.concerns.push_back({place + "/procedures", false,
                                "names no procedure, so the blueprint cannot count it",
                                "name what is asked for"});
    }
  }
  check.blueprint = make_blueprint(circuit, conditions);
  check.stations = std::move(stations);
  return check;
}

}  // namespace redress::assessment
