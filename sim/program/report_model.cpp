// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The report that holds the model against the literature.
#include <fmt/format.h>

#include "sim/basics/file.hpp"
#include "sim/evidence/report.hpp"
#include "sim/program/verbs.hpp"

namespace redress::program {

int report_model(const std::string& path) {
  const std::vector<evidence::Outcome> outcomes = evidence::run_rows(evidence::all_rows());
  if (const auto problem = write_whole_file(path, evidence::make_report(outcomes))) {
    return report(path, *problem);
  }
  const evidence::Counts counts = evidence::count(outcomes);
  fmt::print("{} rows: {} within, {} outside, {} not simulated\n", counts.all(), counts.within,
             counts.outside, counts.not_simulated);
  return 0;
}

}  // namespace redress::program
