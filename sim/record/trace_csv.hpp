// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Traces: one row each millisecond, comma-separated, with a header row. Fixed point: angles in
// degrees with 5 decimals, other quantities (dioptres, millimetres, fractions) with 4; yes and no
// as 1 and 0. Signs: sim/basics/eye.hpp. The order of the columns is held fixed; new ones go last.
#pragma once

#include <optional>
#include <string>

#include "sim/basics/file.hpp"
#include "sim/room/observation.hpp"

namespace redress::record {

/// The names of the columns and LF.
void append_trace_header(std::string& text);

/// One row and LF. The values must be finite and below 1e9.
void append_trace_row(std::string& text, const Observation& observation);

/// A trace file: appears at its path when commit() succeeds. Rows go into one buffer that is used
/// again, so that a row costs no allocation.
class TraceWriter {
 public:
  explicit TraceWriter(const std::string& path);

  void row(const Observation& observation);
  [[nodiscard]] std::optional<Problem> commit();
  /// A write failed; the rest can be spared.
  [[nodiscard]] bool failed() const { return file_.problem().has_value(); }

 private:
  WholeFile file_;
  std::string buffer_;
};

}  // namespace redress::record
