// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The sink of sim/record/run.hpp that writes files: a trace, a record, both or neither.
#pragma once

#include <cstdint>

#include "sim/record/record_writer.hpp"
#include "sim/record/trace_csv.hpp"
#include "sim/room/act.hpp"
#include "sim/room/observation.hpp"

namespace redress::record {

/// Null: that file is not wanted. The writers keep their problems; commit() the trace afterwards.
struct FileSink {
  TraceWriter* trace = nullptr;
  RecordWriter* record = nullptr;

  [[nodiscard]] bool wants_rows() const { return trace != nullptr; }
  [[nodiscard]] bool wants_states() const { return record != nullptr; }
  void row(const Observation& observation) { trace->row(observation); }
  void state(Tick at_ms, std::uint64_t hash) { record->state(at_ms, hash); }
  void act(const Act& act) {
    if (record != nullptr) record->act(act);
  }
  void reply(const Reply& reply) {
    if (record != nullptr) record->reply(reply);
  }
  void end(Tick at_ms) {
    if (record != nullptr) record->end(at_ms);
  }
  [[nodiscard]] bool failed() const {
    return (trace != nullptr && trace->failed()) || (record != nullptr && record->failed());
  }
};

}  // namespace redress::record
