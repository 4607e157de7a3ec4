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
  // Opened first: where nothing can be written, nothing need be simulated.
  WholeFile page(path);
  if (page.problem()) return report(path, *page.problem());
  const std::vector<evidence::Outcome> outcomes = evidence::run_rows(evidence::all_rows());
  page.write(evidence::make_report(outcomes));
  if (const auto problem = page.commit()) return report(path, *problem);
  const evidence::Counts counts = evidence::count(outcomes);
  fmt::print("{} rows: {} within, {} outside, {} not simulated\n", counts.all(), counts.within,
             counts.outside, counts.not_simulated);
  return 0;
}

}  // namespace redress::program
