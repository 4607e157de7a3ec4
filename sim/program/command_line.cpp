// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The command line. Wrong usage answers 2; the verbs answer the rest (sim/program/verbs.hpp).
#include "sim/program/command_line.hpp"

#include <cstdint>
#include <exception>
#include <string>
#include <vector>

#include <fmt/format.h>
#include <CLI/CLI.hpp>

#include "sim/program/assessment_verbs.hpp"
#include "sim/program/generate.hpp"
#include "sim/program/options.hpp"
#include "sim/program/verbs.hpp"
#include "sim/record/record_format.hpp"

namespace redress::program {

namespace {

constexpr int kWrongUsage = 2;
constexpr const char* kAbout =
    "Redress: a virtual patient's eyes, for learning, teaching and examining the cover test.\n"
    "For training only. It is not a medical device and does not diagnose real people.";

void add_choice(CLI::App& verb, program::Choice& choice) {
  verb.add_option("--seed", choice.seed, "chance of this examination; default: the case's")
      ->check(CLI::Range(std::uint64_t{0}, record::kLargestSeed));
  verb.add_option("--noise", choice.noise, "1 as in the case, 0 off")
      ->check(number_between(0, record::kMostNoise));
}

std::vector<std::string> generated_words() {
  const auto& words = program::generated_diagnoses();
  return {words.begin(), words.end()};
}

int run(int argc, char** argv, const Extension& window) {
  CLI::App app{kAbout, "redress"};
  app.set_version_flag("--version", std::string{"redress "} + std::string{record::kEngineVersion});
  app.require_subcommand(0, 1);
  app.failure_message([](const CLI::App*, const CLI::Error& error) {
    std::string words = error.what();
    // An option that is not in the help has no name there.
    if (words.starts_with(": ")) words.erase(0, 2);
    return words + "\nRun with --help for more information.\n";
  });
  int code = 0;

  std::vector<std::string> files;
  bool explain = false;
  auto* validate =
      app.add_subcommand("validate", "check cases, circuits, lists of acts and records");
  validate->add_option("files", files, "FILE...")->required();
  validate->add_flag("--explain", explain,
                     "every value in force, its default and its source; what the engine finds; "
                     "what does not agree");
  validate->callback([&] { code = program::validate(files, explain); });

  std::string case_path;
  auto* truth = app.add_subcommand("truth", "what is really there, as JSON");
  truth->add_option("case", case_path, "CASE")->required();
  truth->callback([&] { code = program::print_truth(case_path); });

  program::GenerateOptions generation;
  auto* generate = app.add_subcommand("generate", "draw cases from published figures");
  generate->add_option("--diagnosis", generation.diagnosis, "what to draw; any: as people come")
      ->check(CLI::IsMember(generated_words()));
  generate->add_option("--difficulty", generation.difficulty, "0 easy (large) ... 1 hard (small)")
      ->check(number_between(0, 1));
  generate->add_option("--seed", generation.seed, "the same seed draws the same cases")
      ->check(CLI::Range(std::uint64_t{0}, record::kLargestSeed));
  generate->add_option("--count", generation.count, "how many")->check(CLI::Range(1, 100'000));
  generate->add_option("--out", generation.folder,
                       "a folder for the files; without: one case a line on standard output");
  generate->callback([&] { code = program::generate(generation); });

  program::PackOptions packing;
  auto* pack = app.add_subcommand("pack", "many cases in one file, to hand on");
  pack->add_option("cases", packing.case_paths, "CASE...")->required();
  pack->add_option("--out", packing.out_path, "the pack to write")->required();
  pack->add_option("--title", packing.title, "what it is called")->required();
  pack->add_option("--note", packing.note, "for those who get it");
  pack->callback([&] { code = program::pack(packing); });

  program::UnpackOptions unpacking;
  auto* unpack = app.add_subcommand("unpack", "what is in a pack; with --into, writes its cases");
  unpack->add_option("pack", unpacking.pack_path, "PACK")->required();
  unpack->add_option("--into", unpacking.folder, "a folder; without: nothing is written");
  unpack->callback([&] { code = program::unpack(unpacking); });

  program::SimulateOptions simulation;
  auto* simulate = app.add_subcommand("simulate", "run a list of acts");
  simulate->add_option("case", simulation.case_path, "CASE")->required();
  simulate->add_option("--acts", simulation.acts_path, "one act a line")->required();
  add_choice(*simulate, simulation.choice);
  simulate->add_option("--trace", simulation.trace_path, "every millisecond, as CSV");
  simulate->add_option("--record", simulation.record_path, "the record of the examination");
  simulate->add_option("--until-ms", simulation.until_ms, "default: the last act + 1000")
      ->check(CLI::Range(std::int64_t{0}, std::int64_t{86'400'000}));
  simulate->callback([&] { code = program::simulate(simulation); });

  program::ExamineOptions examination;
  auto* examine = app.add_subcommand("examine", "the built-in examiner does a full examination");
  examine->add_option("case", examination.case_path, "CASE")->required();
  add_choice(*examine, examination.choice);
  examine->add_option("--record", examination.record_path, "the record of the examination");
  examine->add_option("--examiner", examination.examiner, "who examines")
      ->check(CLI::IsMember({"reference", "random", "idle", "guessing"}));
  examine->add_option("--fault", examination.fault, "one fault of technique")
      ->check(CLI::IsMember({"short_covers", "no_near_test", "wrong_base", "letter_too_small"}));
  examine->callback([&] { code = program::examine(examination); });

  std::string record_path;
  auto* score = app.add_subcommand("score", "the scored debrief of a record, as JSON");
  program::ScoreOptions scoring;
  score->add_option("record", scoring.record_path, "RECORD")->required();
  score->add_option("--rubric", scoring.rubric_path, "weights of the items; default: built in");
  score->add_option("--column", scoring.column, "P formative, O station of a final examination")
      ->check(CLI::IsMember({"P", "O"}));
  score->add_option("--ratings", scoring.ratings_path,
                    "global ratings by people, told beside the total and never added to it");
  score->add_option("--department", scoring.department_path,
                    "what a department calls the steps of urgency");
  score->callback([&] { code = program::score(scoring); });

  auto* replay = app.add_subcommand("replay", "simulate a record again and compare every state");
  replay->add_option("record", record_path, "RECORD")->required();
  replay->callback([&] { code = program::replay(record_path); });

  auto* verify = app.add_subcommand("verify", "are records whole and unaltered?");
  verify->add_option("files", files, "FILE...")->required();
  std::string sealed_path;
  verify->add_option("--circuit", sealed_path, "a sealed circuit: are kept stations from it?");
  verify->callback([&] { code = program::verify(files, sealed_path); });

  auto* bench = app.add_subcommand("bench", "throughput figures as JSON");
  bench->callback([&] { code = program::bench(); });

  std::string model_path;
  auto* report = app.add_subcommand("report", "the model held against the literature");
  report->add_option("--model", model_path, "the page to write, HTML")->required();
  report->callback([&] { code = program::report_model(model_path); });

  program::AssessmentOptions assessment;
  program::add_assessment_verbs(app, assessment, code);

  std::function<int()> without_verb = [&app] {
    fmt::print("{}", app.help());
    return 0;
  };
  if (window) without_verb = window(app, argv[0], code);

  try {
    app.parse(argc, argv);
  } catch (const CLI::ParseError& e) {
    const int answer = app.exit(e);
    return answer == 0 ? 0 : kWrongUsage;
  }
  return app.get_subcommands().empty() ? without_verb() : code;
}

}  // namespace

int run_command_line(int argc, char** argv, const Extension& window) {
  try {
    return run(argc, argv, window);
  } catch (const std::exception& e) {
    fmt::print(stderr, "redress: {}\n", e.what());
    return 1;
  }
}

}  // namespace redress::program
