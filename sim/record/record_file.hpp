// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Reads records: refuses what is altered, of a newer version or not complete, and says where.
// Format: sim/record/record_format.hpp.
#pragma once

#include <cstdint>
#include <optional>
#include <string_view>
#include <utility>
#include <vector>

#include "sim/basics/problem.hpp"
#include "sim/record/record_format.hpp"
#include "sim/record/record_writer.hpp"
#include "sim/record/verify.hpp"
#include "sim/room/act.hpp"
#include "sim/room/observation.hpp"

namespace redress::record {

struct Record {
  RecordHeader header;
  std::vector<Act> acts;
  std::vector<Reply> replies;
  std::vector<std::pair<Tick, std::uint64_t>> states;  ///< at 0, 250, 500 ... ms
  std::optional<Tick> end;                             ///< none: cut short
};

/// A whole record; everything else is refused with its reasons.
Result<Record> read_record(std::string_view text);

/// The whole lines of a record that may have been cut short, and how it goes on from there: keep
/// the first verdict.good_bytes of the file and append.
struct CutRecord {
  Record record;
  Verdict verdict;
  Resumption resumption;
};
/// An altered record is refused, and so is one without a whole first line.
Result<CutRecord> read_cut_record(std::string_view text);

}  // namespace redress::record
