// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// rehearse: a circuit tried with simulated practitioners, on all processors; shards on other
// machines give further candidates of the same cohort.
#include <algorithm>
#include <charconv>
#include <cstdio>
#include <optional>
#include <utility>
#include <vector>

#include <fmt/format.h>

#include "sim/assessment/cohort.hpp"
#include "sim/assessment/marks_csv.hpp"
#include "sim/assessment/rehearse_circuit.hpp"
#include "sim/assessment/report.hpp"
#include "sim/basics/file.hpp"
#include "sim/program/assessment_verbs.hpp"
#include "sim/program/circuit_files.hpp"
#include "sim/program/paper.hpp"
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
  if (const auto problem =
          check_paths(inputs, {options.marks_path, options.report_path, options.pdf_path})) {
    return report("rehearse", *problem);
  }
  const Result<Circuit> circuit = load_circuit(path);
  if (!circuit) return report(path, circuit.problems());

  Cohort cohort;
  if (options.merge.empty()) {
    const auto forms = load_forms(circuit.value(), patients_beside(path));
    if (!forms) return report(path, forms.problems());
    const WorkSpread on_threads = [threads = find_threads(options.threads)](std::size_t count,
                                                                            const auto& work) {
      spread(count, threads, work);
    };
    const auto prepared = prepare_circuit(circuit.value(), forms.value(), on_threads);
    std::vector<const std::vector<PreparedForm>*> stations;
    for (const auto& station : prepared) stations.push_back(&station);
    cohort = send_through(
        circuit.value(), stations,
        {options.candidates, mix.value(), options.seed, shard->number - 1, shard->count},
        on_threads);
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
  if (!options.pdf_path.empty()) {
    const Result<std::string> pdf = make_pdf(make_cohort_document(cohort, figures, head));
    if (!pdf) return report(options.pdf_path, pdf.problems());
    if (const auto problem = write_whole_file(options.pdf_path, pdf.value())) {
      return report(options.pdf_path, *problem);
    }
  }
  fmt::print("{}\n", make_json(cohort, figures, head).dump(2));
  return 0;
}

}  // namespace redress::program
