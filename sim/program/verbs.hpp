// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The verbs of the command line. Each returns the exit code: 0 done; 1 the input is wrong or a
// check failed, with every problem on standard error, one a line, as `FILE: /json/pointer: what is
// wrong`. Wrong usage (2) is answered where the command line is read, in main.cpp.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include <nlohmann/json.hpp>

#include "sim/basics/problem.hpp"
#include "sim/cases/case.hpp"
#include "sim/record/record_file.hpp"
#include "sim/room/act.hpp"
#include "sim/truth/truth.hpp"

namespace redress::program {

/// What several verbs share; absent values are the case's own.
struct Choice {
  std::optional<std::uint64_t> seed;
  double noise = 1.0;
};

struct SimulateOptions {
  std::string case_path;
  std::string acts_path;
  Choice choice;
  std::string trace_path;   ///< empty: none
  std::string record_path;  ///< empty: none
  std::optional<Tick> until_ms;
};

struct ExamineOptions {
  std::string case_path;
  Choice choice;
  std::string record_path;
  std::string examiner = "reference";  ///< reference, random, idle, guessing
  std::string fault;                   ///< empty: none
};

struct GenerateOptions {
  std::string diagnosis = "any";
  double difficulty = 0.5;
  std::uint64_t seed = 1;
  int count = 1;
  std::string folder;  ///< empty: on standard output, one case a line
};

struct PackOptions {
  std::vector<std::string> case_paths;
  std::string out_path;
  std::string title;
  std::string note;
};

struct UnpackOptions {
  std::string pack_path;
  std::string folder;  ///< empty: only tells what is inside
};

int validate(const std::vector<std::string>& paths, bool explain);
int print_truth(const std::string& case_path);
int generate(const GenerateOptions& options);
int pack(const PackOptions& options);
/// Nothing is written unless all of it can be: a name that is taken in the folder is refused.
int unpack(const UnpackOptions& options);
int simulate(const SimulateOptions& options);
int examine(const ExamineOptions& options);
struct ScoreOptions {
  std::string record_path;
  std::string rubric_path;   ///< empty: the default rubric
  std::string column = "P";  ///< P, O
  std::string ratings_path;  ///< empty: none; global ratings by people, told beside the total
  std::string department_path;  ///< empty: none; what the department calls the urgency written
};
int score(const ScoreOptions& options);
int replay(const std::string& record_path);
/// Records and kept stations; those against the circuit of `sealed_path` unless it is empty.
int verify(const std::vector<std::string>& paths, const std::string& sealed_path = {});
int bench();
/// The same figures as JSON, for who has more to add.
std::string bench_engine();
/// Every row that holds the model against the literature, as one HTML page.
int report_model(const std::string& path);

/// Prints the problems of one file on standard error; returns 1.
int report(const std::string& path, const Problems& problems);
int report(const std::string& path, const Problem& problem);

/// A problem if an output would be written over an input or another output. Empty paths are none.
std::optional<Problem> check_paths(const std::vector<std::string>& inputs,
                                   const std::vector<std::string>& outputs);

/// A case as read, and as written in its file.
struct LoadedCase {
  Case content;
  nlohmann::json written;
};
Result<LoadedCase> load_case(const std::string& path);
Result<record::Record> load_record(const std::string& path);

/// The truth at this patient's own distances, and as JSON with the case's urgency.
truth::Truth calc_truth_of(const Case& the_case, const ExaminationSetup& setup);
nlohmann::json truth_json_of(const Case& the_case, const truth::Truth& found);

}  // namespace redress::program
