// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// simulate, replay, verify: running acts and checking records.
#include <cstdio>
#include <fstream>
#include <memory>

#include <fmt/format.h>

#include "sim/assessment/kept_station.hpp"
#include "sim/basics/file.hpp"
#include "sim/basics/state_hash.hpp"
#include "sim/cases/case_file.hpp"
#include "sim/cases/setup.hpp"
#include "sim/program/assessment_verbs.hpp"
#include "sim/program/verbs.hpp"
#include "sim/record/act_json.hpp"
#include "sim/record/file_sink.hpp"
#include "sim/record/replay.hpp"
#include "sim/record/run.hpp"
#include "sim/record/verify.hpp"

namespace redress::program {

int simulate(const SimulateOptions& options) {
  if (const auto problem = check_paths({options.case_path, options.acts_path},
                                       {options.trace_path, options.record_path})) {
    return report("simulate", *problem);
  }
  const Result<LoadedCase> loaded = load_case(options.case_path);
  if (!loaded) return report(options.case_path, loaded.problems());
  const Result<std::string> text = read_file(options.acts_path);
  if (!text) return report(options.acts_path, text.problems());
  const Result<std::vector<Act>> acts = record::parse_acts(text.value());
  if (!acts) return report(options.acts_path, acts.problems());

  const Case& the_case = loaded.value().content;
  const std::uint64_t seed = options.choice.seed.value_or(the_case.seed);
  record::RunOptions run_options;
  run_options.chance = {seed, options.choice.noise, true};
  run_options.until_ms = options.until_ms;

  record::FileSink sink;
  std::unique_ptr<record::TraceWriter> trace;
  if (!options.trace_path.empty()) {
    trace = std::make_unique<record::TraceWriter>(options.trace_path);
    sink.trace = trace.get();
    if (trace->failed()) return report(options.trace_path, *trace->commit());
  }
  std::ofstream stream;
  std::unique_ptr<record::RecordWriter> writer;
  if (!options.record_path.empty()) {
    stream.open(options.record_path, std::ios::binary | std::ios::trunc);
    if (!stream) return report(options.record_path, Problem{"", "cannot be written"});
    writer = std::make_unique<record::RecordWriter>(
        stream, record::make_header(loaded.value().written, seed, options.choice.noise));
    sink.record = writer.get();
  }

  const record::RunEnd end = record::run(setup_of(the_case), acts.value(), run_options, sink);
  if (writer && writer->failed()) return report(options.record_path, *writer->problem());
  if (end.fault) return report(options.case_path, Problem{"", to_text(*end.fault)});
  if (trace) {
    if (const auto problem = trace->commit()) return report(options.trace_path, *problem);
  }
  const nlohmann::ordered_json result{{"until_ms", end.at_ms},
                                      {"acts", end.acts},
                                      {"seed", seed},
                                      {"noise", options.choice.noise},
                                      {"state", to_hex(end.hash)}};
  fmt::print("{}\n", result.dump());
  return 0;
}

int replay(const std::string& record_path) {
  const Result<record::Record> loaded = load_record(record_path);
  if (!loaded) return report(record_path, loaded.problems());
  const Result<Case> the_case = parse_case(loaded.value().header.the_case);
  if (!the_case) return report(record_path, the_case.problems());
  const record::ReplayVerdict verdict = record::replay(loaded.value(), setup_of(the_case.value()));
  if (!verdict.agrees) return report(record_path, Problem{"", verdict.message});
  fmt::print("{}: {}\n", record_path, verdict.message);
  return 0;
}

int verify(const std::vector<std::string>& paths, const std::string& sealed_path) {
  int code = 0;
  for (const std::string& path : paths) {
    const Result<std::string> text = read_file(path);
    if (!text) {
      code = report(path, text.problems());
      continue;
    }
    if (assessment::is_kept_station(text.value())) {
      if (verify_kept(path, text.value(), sealed_path) != 0) code = 1;
      continue;
    }
    const record::Verdict verdict = record::verify(text.value());
    if (verdict.whole()) {
      fmt::print("{}: {}\n", path, verdict.message);
    } else {
      code = report(path, Problem{"", verdict.message});
    }
  }
  return code;
}

}  // namespace redress::program
