// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// examine and score: a built-in examiner at work, and the marks of any record.
#include <cstdio>
#include <fstream>

#include <fmt/format.h>

#include "sim/cases/case_file.hpp"
#include "sim/cases/setup.hpp"
#include "sim/examiners/examine.hpp"
#include "sim/findings/record_card.hpp"
#include "sim/program/verbs.hpp"
#include "sim/record/file_sink.hpp"
#include "sim/record/replay.hpp"
#include "sim/record/run.hpp"
#include "sim/scoring/score.hpp"

namespace redress::program {

namespace {

examiners::Kind kind_of(const std::string& name) {
  if (name == "random") return examiners::Kind::random;
  if (name == "idle") return examiners::Kind::idle;
  if (name == "guessing") return examiners::Kind::guessing;
  return examiners::Kind::reference;
}

examiners::Fault fault_of(const std::string& name) {
  if (name == "short_covers") return examiners::Fault::short_covers;
  if (name == "no_near_test") return examiners::Fault::no_near_test;
  if (name == "wrong_base") return examiners::Fault::wrong_base;
  if (name == "letter_too_small") return examiners::Fault::letter_too_small;
  return examiners::Fault::none;
}

// The examination is simulated once more into the record, so that a record is made in one place.
std::optional<Problem> write_record(const std::string& path, const LoadedCase& loaded,
                                    const ExaminationSetup& setup, const Chance& chance,
                                    const examiners::Examined& examined) {
  std::ofstream stream(path, std::ios::binary | std::ios::trunc);
  if (!stream) return Problem{"", "cannot be written"};
  record::RecordWriter writer(stream,
                              record::make_header(loaded.written, chance.seed, chance.noise));
  record::FileSink sink;
  sink.record = &writer;
  record::RunOptions options;
  options.chance = chance;
  options.until_ms = examined.until;
  record::run(setup, examined.acts, options, sink);
  return writer.problem();
}

}  // namespace

int examine(const ExamineOptions& options) {
  if (const auto problem = check_paths({options.case_path}, {options.record_path})) {
    return report("examine", *problem);
  }
  const Result<LoadedCase> loaded = load_case(options.case_path);
  if (!loaded) return report(options.case_path, loaded.problems());
  const Case& the_case = loaded.value().content;
  const ExaminationSetup setup = setup_of(the_case);
  const Chance chance{options.choice.seed.value_or(the_case.seed), options.choice.noise, true};

  examiners::Habits habits;
  habits.kind = kind_of(options.examiner);
  habits.fault = fault_of(options.fault);
  habits.near_m = the_case.patient.near_working_distance.value;
  habits.age_years = the_case.patient.age_years;
  habits.owns_spectacles = the_case.spectacles.owned();
  habits.seed = chance.seed;
  Examination exam(setup, chance);
  const examiners::Examined examined = examiners::examine(exam, habits);

  if (!options.record_path.empty()) {
    if (const auto problem =
            write_record(options.record_path, loaded.value(), setup, chance, examined)) {
      return report(options.record_path, *problem);
    }
  }
  const truth::Truth found = calc_truth_of(the_case, setup);
  const scoring::ScoreSheet sheet =
      scoring::calc_score(the_case, setup, examined.acts, chance, examined.until, found);
  const nlohmann::ordered_json result{
      {"findings", findings::to_json(findings::make_card(examined.acts))},
      {"truth", truth_json_of(the_case, found)},
      {"score", scoring::to_json(sheet)}};
  fmt::print("{}\n", result.dump(2));
  return 0;
}

int score(const std::string& record_path) {
  const Result<record::Record> loaded = load_record(record_path);
  if (!loaded) return report(record_path, loaded.problems());
  const record::Record& record = loaded.value();
  const Result<Case> the_case = parse_case(record.header.the_case);
  if (!the_case) return report(record_path, the_case.problems());
  const ExaminationSetup setup = setup_of(the_case.value());
  const truth::Truth found = calc_truth_of(the_case.value(), setup);
  const Chance chance{record.header.seed, record.header.noise, true};
  const scoring::ScoreSheet sheet = scoring::calc_score(
      the_case.value(), setup, record.acts, chance, record::calc_last_tick(record), found);
  fmt::print("{}\n", scoring::to_json(sheet).dump(2));
  return 0;
}

}  // namespace redress::program
