// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// examine and score: a built-in examiner at work, and the marks of any record.
#include <cstdio>
#include <fstream>
#include <optional>

#include <fmt/format.h>

#include "sim/basics/file.hpp"
#include "sim/cases/case_file.hpp"
#include "sim/cases/setup.hpp"
#include "sim/examiners/examine.hpp"
#include "sim/findings/department.hpp"
#include "sim/findings/record_card.hpp"
#include "sim/program/verbs.hpp"
#include "sim/record/replay.hpp"
#include "sim/record/write_run.hpp"
#include "sim/scoring/global_rating.hpp"
#include "sim/scoring/rubric_file.hpp"
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
  return record::write_run(stream, loaded.written, setup, chance, examined.acts, examined.until);
}

// What was written last of urgency and driving, as this department says it.
nlohmann::json tell_in_department(const record::Record& record,
                                  const findings::Department& department) {
  nlohmann::json told{{"title", department.title}, {"example", department.example}};
  for (const findings::WrittenFinding& entry : findings::make_card(record.acts).entries) {
    const Finding& f = entry.finding;
    if (f.urgency) told["urgency"] = department.code_of(*f.urgency);
    if (f.driving) told["driving"] = department.words_of(*f.driving);
  }
  return told;
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
  if (exam.fault()) return report(options.case_path, Problem{"", to_text(*exam.fault())});
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

int score(const ScoreOptions& options) {
  const std::string& record_path = options.record_path;
  scoring::Rubric rubric = scoring::make_default_rubric();
  if (!options.rubric_path.empty()) {
    const Result<std::string> text = read_file(options.rubric_path);
    if (!text) return report(options.rubric_path, text.problems());
    const Result<scoring::Rubric> read = scoring::read_rubric_text(text.value());
    if (!read) return report(options.rubric_path, read.problems());
    rubric = read.value();
  }
  std::vector<scoring::GlobalRating> ratings;
  if (!options.ratings_path.empty()) {
    const Result<std::string> text = read_file(options.ratings_path);
    if (!text) return report(options.ratings_path, text.problems());
    const auto read = scoring::read_ratings_text(text.value());
    if (!read) return report(options.ratings_path, read.problems());
    ratings = read.value();
  }
  std::optional<findings::Department> department;
  if (!options.department_path.empty()) {
    const Result<std::string> text = read_file(options.department_path);
    if (!text) return report(options.department_path, text.problems());
    const auto read = findings::read_department_text(text.value());
    if (!read) return report(options.department_path, read.problems());
    department = read.value();
  }
  const Result<record::Record> loaded = load_record(record_path);
  if (!loaded) return report(record_path, loaded.problems());
  const record::Record& record = loaded.value();
  const Result<Case> the_case = parse_case(record.header.the_case);
  if (!the_case) return report(record_path, the_case.problems());
  const ExaminationSetup setup = setup_of(the_case.value());
  const truth::Truth found = calc_truth_of(the_case.value(), setup);
  const Chance chance{record.header.seed, record.header.noise, true};
  const auto column = options.column == "O" ? scoring::Column::station : scoring::Column::formative;
  const scoring::ScoreSheet sheet =
      scoring::calc_score(the_case.value(), setup, record.acts, chance,
                          record::calc_last_tick(record), found, column, rubric);
  nlohmann::json result = scoring::to_json(sheet);
  result["rubric"] = rubric.title;
  result["pass_mark"] = rubric.pass_mark(column);
  if (!options.ratings_path.empty()) result["global_ratings"] = scoring::to_json(ratings);
  if (department) result["in_the_department"] = tell_in_department(record, *department);
  fmt::print("{}\n", result.dump(2));
  return 0;
}

}  // namespace redress::program
