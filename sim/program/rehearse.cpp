// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// rehearse: a circuit tried with simulated practitioners, on all processors
// (sim/program/spread.hpp); shards on other machines give further candidates of the same cohort.
#include <charconv>
#include <cstdio>
#include <optional>
#include <utility>
#include <vector>

#include <fmt/format.h>

#include "sim/assessment/cohort.hpp"
#include "sim/assessment/marks_csv.hpp"
#include "sim/assessment/rehearsal.hpp"
#include "sim/assessment/report.hpp"
#include "sim/basics/file.hpp"
#include "sim/program/assessment_verbs.hpp"
#include "sim/program/circuit_files.hpp"
#include "sim/program/spread.hpp"
#include "sim/program/verbs.hpp"
#include "sim/record/record_format.hpp"

namespace redress::program {

using namespace assessment;

namespace {

struct Shard {
  std::uint64_t number = 1;
  std::uint64_t count = 1;
};

std::optional<Shard> parse_shard(const std::string& text) {
  Shard shard;
  const char* const end = text.data() + text.size();
  const auto first = std::from_chars(text.data(), end, shard.number);
  if (first.ec != std::errc{} || first.ptr == end || *first.ptr != '/') return std::nullopt;
  const auto second = std::from_chars(first.ptr + 1, end, shard.count);
  if (second.ec != std::errc{} || second.ptr != end) return std::nullopt;
  if (shard.number < 1 || shard.number > shard.count) return std::nullopt;
  return shard;
}

struct Piece {
  std::size_t station = 0;
  std::size_t form = 0;
};

Cohort send_through(const Circuit& circuit, const std::vector<std::vector<Form>>& forms,
                    const SkillMix& mix, const RehearseOptions& options, const Shard& shard) {
  const std::vector<std::size_t> scored = find_scored(circuit);
  std::vector<Piece> pieces;
  std::vector<std::vector<PreparedForm>> prepared(circuit.stations.size());
  for (const std::size_t s : scored) {
    prepared[s].resize(forms[s].size());
    for (std::size_t f = 0; f < forms[s].size(); ++f) pieces.push_back({s, f});
  }
  spread(pieces.size(), options.threads, [&](std::size_t i) {
    const auto [s, f] = pieces[i];
    prepared[s][f] = prepare_form(circuit.stations[s], forms[s][f], true);
  });

  std::vector<std::uint64_t> numbers;
  for (std::uint64_t n = shard.number - 1; n < options.candidates; n += shard.count) {
    numbers.push_back(n);
  }
  Cohort cohort;
  cohort.circuit = circuit;
  cohort.rows.resize(numbers.size());
  std::vector<std::vector<SizePair>> sizes(numbers.size());
  spread(numbers.size(), options.threads, [&](std::size_t i) {
    const Practitioner practitioner = draw_practitioner(mix, options.seed, numbers[i]);
    CohortRow& row = cohort.rows[i];
    row.candidate = fmt::format("{:05}", numbers[i] + 1);
    for (const std::size_t s : scored) {
      const std::size_t form = find_form(circuit.title, row.candidate, s, prepared[s].size());
      Attendance a = attend(circuit.stations[s], prepared[s][form], options.seed, s, practitioner);
      row.stations.push_back({a.marks, a.unsafe, a.finished, std::nullopt, std::move(a.shares)});
      sizes[i].insert(sizes[i].end(), a.sizes.begin(), a.sizes.end());
    }
  });
  for (const auto& own : sizes) cohort.sizes.insert(cohort.sizes.end(), own.begin(), own.end());
  return cohort;
}

Result<Cohort> merge_shards(const Circuit& circuit, const std::vector<std::string>& paths) {
  Cohort cohort;
  cohort.circuit = circuit;
  for (const std::string& path : paths) {
    const Result<std::string> text = read_file(path);
    if (!text) return text.problems();
    auto problems = add_marks_csv(text.value(), cohort);
    for (Problem& p : problems) p.place = path + (p.place.empty() ? "" : ": " + p.place);
    if (!problems.empty()) return problems;
  }
  sort_rows(cohort);
  return cohort;
}

}  // namespace

int rehearse(const RehearseOptions& options) {
  const std::string& path = options.circuit_path;
  const Result<SkillMix> mix = parse_skill_mix(options.skill);
  if (!mix) return report("rehearse", mix.problems());
  const std::optional<Shard> shard = parse_shard(options.shard);
  if (!shard) {
    return report("rehearse", Problem{"/shard", "is \"" + options.shard +
                                                    "\"; allowed: I/N with I from 1 to N"});
  }
  std::vector<std::string> inputs = options.merge;
  inputs.push_back(path);
  if (const auto problem = check_paths(inputs, {options.marks_path, options.report_path})) {
    return report("rehearse", *problem);
  }
  const Result<Circuit> circuit = load_circuit(path);
  if (!circuit) return report(path, circuit.problems());

  Cohort cohort;
  if (options.merge.empty()) {
    const auto forms = load_forms(circuit.value(), patients_beside(path));
    if (!forms) return report(path, forms.problems());
    cohort = send_through(circuit.value(), forms.value(), mix.value(), options, *shard);
  } else {
    Result<Cohort> merged = merge_shards(circuit.value(), options.merge);
    if (!merged) return report("rehearse", merged.problems());
    cohort = std::move(merged).value();
  }
  if (cohort.rows.empty()) {
    return report("rehearse", Problem{"", "has no candidates; allowed: one at the least"});
  }
  const CohortFigures figures = calc_figures(cohort);
  const ReportHead head{"", std::string(record::kEngineVersion), "", true};
  if (!options.marks_path.empty()) {
    if (const auto problem = write_whole_file(options.marks_path, make_marks_csv(cohort))) {
      return report(options.marks_path, *problem);
    }
  }
  if (!options.report_path.empty()) {
    if (const auto problem =
            write_whole_file(options.report_path, make_cohort_report(cohort, figures, head))) {
      return report(options.report_path, *problem);
    }
  }
  fmt::print("{}\n", make_json(cohort, figures, head).dump(2));
  return 0;
}

}  // namespace redress::program
