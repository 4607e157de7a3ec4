// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Keeps a station while it goes on (sim/assessment/kept_station.hpp). A sink of sim/record/run.hpp;
// what came in is on the disk, signed and encrypted, at the latest with the next state hash, that
// is every 250 ms. If the disk is full nothing is lost as long as the program runs: it is tried
// again each time, and problem() says so.
#pragma once

#include <cstdint>
#include <memory>
#include <optional>
#include <sstream>
#include <string>

#include "sim/assessment/append_file.hpp"
#include "sim/assessment/kept_station.hpp"
#include "sim/assessment/station_lines.hpp"
#include "sim/record/record_file.hpp"
#include "sim/record/record_writer.hpp"

namespace redress::assessment {

/// A station that was cut short, as sim/assessment/resume_station.hpp reads it.
struct ResumableStation {
  OpenedStation opened;  ///< verdict.used_ms: the time that had been used
  /// None: it stopped before the first line of the record was on the disk.
  std::optional<record::CutRecord> cut;
  std::size_t form = 0;  ///< of the circuit's forms for this station

  /// Whether there is anything to go on from; else the examination starts at 0.
  [[nodiscard]] bool has_begun() const { return cut && !cut->record.states.empty(); }
};

class StationWriter {
 public:
  /// A new station; there must be no file at `path`. `key` outlives this.
  StationWriter(const std::string& path, const StationIdentity& identity, const WorkstationKey& key,
                const record::RecordHeader& header, bool synced);
  /// Goes on after a crash, from the last signed line; with `header` where no line of a record was
  /// kept. Signed from here by `key`, which may be another workstation's.
  StationWriter(const std::string& path, const ResumableStation& from,
                const record::RecordHeader& header, const WorkstationKey& key, bool synced);

  void act(const Act& act);
  void reply(const Reply& reply);
  void state(Tick at_ms, std::uint64_t hash);
  void end(Tick at_ms);
  void event(const DeskEvent& event);

  /// Nothing more can be kept: an act that the format does not know. A full disk is no failure.
  [[nodiscard]] bool failed() const { return writer_ && writer_->failed(); }
  /// What should be told to the candidate or the invigilator now.
  [[nodiscard]] std::optional<Problem> problem() const;
  /// Tries the disk again; true if nothing waits.
  bool flush() { return file_.flush(); }

 private:
  StationWriter(const std::string& path, const WorkstationKey& key, bool go_on,
                std::size_t keep_bytes, bool synced);
  void write_line(const nlohmann::ordered_json& object);
  void keep(Tick at_ms);

  const WorkstationKey& key_;
  AppendFile file_;
  std::string chain_;
  std::optional<KeptStream> stream_;
  std::ostringstream buffer_;
  std::unique_ptr<record::RecordWriter> writer_;
};

}  // namespace redress::assessment
