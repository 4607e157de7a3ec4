// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Simulates a record again and compares every state hash and every reply.
#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>

#include "sim/record/record_file.hpp"
#include "sim/room/act.hpp"
#include "sim/room/examination.hpp"

namespace redress::record {

/// The first thing that came out otherwise.
struct Difference {
  Tick at_ms = 0;
  std::string what;      ///< "state" or "reply"
  std::string expected;  ///< as recorded
  std::string got;       ///< as simulated now
  bool operator==(const Difference&) const = default;
};

struct ReplayVerdict {
  bool agrees = false;
  std::optional<Difference> difference;
  std::size_t states = 0;       ///< compared before the first difference
  std::size_t replies = 0;      ///< the same
  bool same_arithmetic = true;  ///< the record was made by the same elementary functions
  std::string message;          ///< one sentence without the file's name
};

/// `setup` as made from the record's own case. A record without its end is compared up to its last
/// line.
ReplayVerdict replay(const Record& record, const ExaminationSetup& setup);

/// The last tick that a record speaks of: its end, or its last line's time.
Tick calc_last_tick(const Record& record);

}  // namespace redress::record
