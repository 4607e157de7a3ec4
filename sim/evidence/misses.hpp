// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Why the rows that lie outside their interval do. The page prints the reason beside the figure;
// tests/evidence/ holds that each miss has one and that nothing else has.
#pragma once

#include <span>
#include <string_view>

namespace redress::evidence {

struct Miss {
  std::string_view id;
  std::string_view why;
};

/// In the order of the rows.
std::span<const Miss> known_misses();

/// Why the row with this id lies outside; empty: it is not known to.
std::string_view find_reason(std::string_view id);

}  // namespace redress::evidence
