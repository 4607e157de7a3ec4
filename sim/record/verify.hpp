// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Is a record whole and unaltered? Told from its bytes alone, without simulating: every bit of the
// file counts, line ends too.
#pragma once

#include <cstddef>
#include <cstdint>
#include <string>
#include <string_view>

#include "sim/record/chain.hpp"

namespace redress::record {

enum class Wholeness : std::uint8_t {
  whole,
  cut_short,      ///< all lines that are there are good, and the rest is missing
  altered,        ///< a line is not as it was written, missing, moved or added
  newer_version,  ///< says a version that this program does not know
  not_a_record,
};

struct Verdict {
  Wholeness wholeness = Wholeness::not_a_record;
  std::size_t line = 0;        ///< the line at fault, from 1; of a whole record: its last
  std::string message;         ///< as in "was altered at line 3: its hash does not fit it"
  std::size_t good_lines = 0;  ///< lines before the fault
  std::size_t good_bytes = 0;  ///< their length with line ends: where a resumed record goes on
  ChainText chain;             ///< of the last good line

  [[nodiscard]] bool whole() const { return wholeness == Wholeness::whole; }
};

Verdict verify(std::string_view text);

}  // namespace redress::record
