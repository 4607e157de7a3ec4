// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Writes a record while the examination goes on: each line reaches the file before the next begins,
// so that a crash loses nothing that was done before it. Format: sim/record/record_format.hpp.
#pragma once

#include <cstdint>
#include <optional>
#include <ostream>
#include <string>
#include <string_view>

#include "sim/basics/problem.hpp"
#include "sim/record/chain.hpp"
#include "sim/record/record_format.hpp"
#include "sim/room/act.hpp"
#include "sim/room/observation.hpp"

namespace redress::record {

/// Where a record that was cut short goes on.
struct Resumption {
  ChainText chain;            ///< of the last whole line
  std::size_t lines = 0;      ///< whole lines
  std::int64_t next_seq = 0;  ///< acts so far
};

/// After the first failure nothing more is written and the problem stays: a record is whole up to
/// there. The stream must outlive the writer and be binary.
class RecordWriter {
 public:
  /// Writes the first line.
  RecordWriter(std::ostream& stream, const RecordHeader& header);
  /// Goes on after the last whole line, where the stream must stand.
  RecordWriter(std::ostream& stream, const Resumption& from);

  /// An act that a reader would refuse (check_act) is a failure.
  void act(const Act& act);
  void reply(const Reply& reply);
  /// At multiples of kStateEveryMs, before that tick's acts.
  void state(Tick at_ms, std::uint64_t hash);
  /// The last line.
  void end(Tick at_ms);

  [[nodiscard]] bool failed() const { return problem_.has_value(); }
  [[nodiscard]] const std::optional<Problem>& problem() const { return problem_; }

 private:
  void write(std::string_view object);

  std::ostream& stream_;
  ChainText chain_;
  std::size_t lines_ = 0;
  std::int64_t next_seq_ = 0;
  std::optional<Problem> problem_;
};

}  // namespace redress::record
