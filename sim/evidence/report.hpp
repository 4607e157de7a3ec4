// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The report as one HTML page that needs nothing else: counts, misses first, then what is not
// simulated, plots, and every row by group. Greys and text, for screen and paper.
#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "sim/evidence/row.hpp"

namespace redress::evidence {

struct Counts {
  std::size_t within = 0;
  std::size_t outside = 0;
  std::size_t not_simulated = 0;
  [[nodiscard]] std::size_t all() const { return within + outside + not_simulated; }
};
Counts count(const std::vector<Outcome>& outcomes);

/// "within", "outside", "not simulated"; "read", "from memory", "common practice", "derived".
const char* word_of(Verdict verdict);
const char* word_of(Standing standing);

/// The same outcomes give the same bytes. The plots are simulated here.
std::string make_report(const std::vector<Outcome>& outcomes);

}  // namespace redress::evidence
