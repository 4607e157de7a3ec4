// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// validate and truth: what a case says and what it comes to.
#include <cstdio>

#include <fmt/format.h>

#include "sim/basics/file.hpp"
#include "sim/basics/json_reader.hpp"
#include "sim/cases/case_file.hpp"
#include "sim/cases/pack.hpp"
#include "sim/cases/setup.hpp"
#include "sim/findings/department.hpp"
#include "sim/program/assessment_verbs.hpp"
#include "sim/program/explain_case.hpp"
#include "sim/program/verbs.hpp"
#include "sim/record/act_json.hpp"
#include "sim/record/verify.hpp"
#include "sim/scoring/global_rating.hpp"
#include "sim/scoring/rubric_file.hpp"
#include "sim/truth/truth.hpp"

namespace redress::program {

namespace {

bool is_record(const std::string& text) {
  return text.substr(0, 200).find("\"redress-record\"") != std::string::npos;
}

bool is_of(const std::string& text, const std::string& format) {
  return text.substr(0, 400).find("\"" + format + "\"") != std::string::npos;
}

bool is_acts(const std::string& text) {
  const std::string head = text.substr(0, 400);
  return head.find("\"act\"") != std::string::npos &&
         head.find("\"redress-case\"") == std::string::npos;
}

int validate_case(const std::string& path, bool with_explanation) {
  const Result<LoadedCase> loaded = load_case(path);
  if (!loaded) return report(path, loaded.problems());
  Problems warnings;
  (void)check_meaning(loaded.value().content, &warnings);
  for (const Problem& w : warnings) {
    fmt::print(stderr, "{}: {}: warning: {}\n", path, w.place, w.message);
  }
  fmt::print("{}: a valid case\n", path);
  if (with_explanation) {
    const Case& content = loaded.value().content;
    fmt::print("{}", explain(content, loaded.value().written));
    fmt::print("{}", explain_findings(content, calc_truth_of(content, setup_of(content))));
  }
  return 0;
}

int validate_one(const std::string& path, bool with_explanation) {
  const Result<std::string> text = read_file(path);
  if (!text) return report(path, text.problems());
  if (is_record(text.value())) {
    const record::Verdict verdict = record::verify(text.value());
    if (!verdict.whole()) return report(path, Problem{"", verdict.message});
    const Result<record::Record> read = record::read_record(text.value());
    if (!read) return report(path, read.problems());
    fmt::print("{}: a valid record\n", path);
    return 0;
  }
  if (is_of(text.value(), "redress-circuit")) return validate_circuit(path);
  if (is_acts(text.value())) {
    const auto acts = record::parse_acts(text.value());
    if (!acts) return report(path, acts.problems());
    fmt::print("{}: a valid list of {} acts\n", path, acts.value().size());
    return 0;
  }
  if (is_of(text.value(), std::string{kPackFormat})) {
    const Result<Pack> pack = read_pack(text.value());
    if (!pack) return report(path, pack.problems());
    fmt::print("{}: a valid pack of {} cases\n", path, pack.value().cases.size());
    return 0;
  }
  if (is_of(text.value(), "redress-rubric")) {
    const auto rubric = scoring::read_rubric_text(text.value());
    if (!rubric) return report(path, rubric.problems());
    fmt::print("{}: a valid rubric\n", path);
    return 0;
  }
  if (is_of(text.value(), "redress-department")) {
    const auto department = findings::read_department_text(text.value());
    if (!department) return report(path, department.problems());
    fmt::print("{}: a valid department\n", path);
    return 0;
  }
  if (is_of(text.value(), "redress-ratings")) {
    const auto ratings = scoring::read_ratings_text(text.value());
    if (!ratings) return report(path, ratings.problems());
    fmt::print("{}: {} valid ratings\n", path, ratings.value().size());
    return 0;
  }
  return validate_case(path, with_explanation);
}

}  // namespace

int validate(const std::vector<std::string>& paths, bool with_explanation) {
  int code = 0;
  for (const std::string& path : paths) {
    if (validate_one(path, with_explanation) != 0) code = 1;
  }
  return code;
}

const char* word(const std::optional<Urgency>& urgency) {
  if (!urgency) return "";
  switch (*urgency) {
    case Urgency::same_day: return "same_day";
    case Urgency::urgent: return "urgent";
    case Urgency::soon: return "soon";
    case Urgency::routine: break;
  }
  return "routine";
}

truth::Truth calc_truth_of(const Case& c, const ExaminationSetup& setup) {
  return truth::calc_truth(
      setup, {c.patient.screen_distance.value, c.patient.near_working_distance.value});
}

nlohmann::json truth_json_of(const Case& c, const truth::Truth& found) {
  return truth::to_json(found, word(c.expected.urgency));
}

int print_truth(const std::string& case_path) {
  const Result<LoadedCase> loaded = load_case(case_path);
  if (!loaded) return report(case_path, loaded.problems());
  const Case& c = loaded.value().content;
  const truth::Truth found = calc_truth_of(c, setup_of(c));
  fmt::print("{}\n", truth_json_of(c, found).dump(2));
  return 0;
}

}  // namespace redress::program
