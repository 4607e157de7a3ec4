// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// A circuit of one station with a shipped exophore, and what a workstation keeps of a simulated
// practitioner there.
#pragma once

#include <string>

#include "sim/assessment/circuit_file.hpp"
#include "sim/assessment/results.hpp"
#include "sim/assessment/station_writer.hpp"
#include "sim/basics/file.hpp"
#include "sim/cases/setup.hpp"
#include "sim/examiners/examine.hpp"
#include "sim/record/run.hpp"
#include "tests/assessment/circuit_texts.hpp"
#include "tests/cases/case_texts.hpp"
#include "tests/support/temporary_folder.hpp"

namespace redress::testing {

/// `weights`: of the station, as its file has them; null: none of its own.
inline assessment::OpenedCircuit make_one_station(const nlohmann::json& weights = nullptr) {
  nlohmann::json value = small_circuit();
  value["stations"].erase(2);
  value["stations"].erase(1);
  if (!weights.is_null()) value["stations"][0]["weights"] = weights;
  assessment::OpenedCircuit opened{
      assessment::parse_circuit(value).value(), {}, assessment::CircuitKeys(), "test"};
  assessment::Form form;
  form.written = nlohmann::json::parse(shipped_case("exophoria"));
  form.content = parse_case(form.written).value();
  form.seed = 1;
  opened.forms.push_back({form});
  return opened;
}

/// The file of candidate 0417 at its first form, with near and age as the patient's.
inline std::string keep_station(const assessment::OpenedCircuit& circuit,
                                examiners::Habits habits = {}) {
  const tests::TemporaryFolder folder;
  const assessment::Form& form = circuit.forms[0][0];
  const ExaminationSetup setup = setup_of(form.content);
  const Chance chance{form.seed, 1.0, true};
  habits.near_m = form.content.patient.near_working_distance.value;
  habits.age_years = form.content.patient.age_years;
  Examination exam(setup, chance);
  const examiners::Examined examined = examiners::examine(exam, habits);
  const assessment::WorkstationKey key = assessment::make_workstation_key(circuit.keys, "desk 1");
  const std::string path = folder / "a.station";
  {
    assessment::StationWriter writer(path, {circuit.keys.id(), "desk 1", "0417", 0}, key,
                                     record::make_header(form.written, form.seed, 1.0), false);
    record::RunOptions options;
    options.chance = chance;
    options.until_ms = examined.until;
    record::run(setup, examined.acts, options, writer);
  }
  return read_file(path).value();
}

/// Every item of the rubric has the same share of `total`.
inline assessment::ScoredStation make_scored(const assessment::StoredStation& station,
                                             double total) {
  assessment::ScoredStation s;
  s.station = station;
  s.score.sheet.total = total;
  for (const scoring::RubricLine& line : scoring::kRubric) {
    s.score.sheet.items.push_back({line.item, 4.0, total / 25.0, scoring::Grade::half, "", {}});
  }
  return s;
}

}  // namespace redress::testing
