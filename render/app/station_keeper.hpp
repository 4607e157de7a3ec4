// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Keeps one candidate's station while it goes on: the record's lines and what happened at the desk
// into one signed and encrypted file (sim/assessment/station_writer.hpp), and from there onto the
// disk by another thread, so that no frame waits for it.
#pragma once

#include <condition_variable>
#include <memory>
#include <mutex>
#include <string>
#include <thread>

#include "render/screens/examine/live_examination.hpp"
#include "sim/assessment/clocks.hpp"
#include "sim/assessment/station_writer.hpp"

namespace redress::app {

/// Waits for the disk in a thread of its own: what was written before want() is on it soon after.
class DiskSync {
 public:
  explicit DiskSync(const std::string& path);
  /// Waits for what is still wanted.
  ~DiskSync();
  DiskSync(const DiskSync&) = delete;
  DiskSync& operator=(const DiskSync&) = delete;
  void want();
  [[nodiscard]] bool failed() const;

 private:
  void work();

  int descriptor_ = -1;
  mutable std::mutex mutex_;
  std::condition_variable wakes_;
  bool wanted_ = false;
  bool leaving_ = false;
  bool failed_ = false;
  std::thread thread_;
};

/// The file stays open for the desk after the examination ended: its last line comes with close().
class StationFile {
 public:
  /// A new one; there must be no file at `path`.
  StationFile(std::string path, const assessment::StationIdentity& identity,
              const assessment::WorkstationKey& key, const record::RecordHeader& header);
  /// Goes on with one that was cut short.
  StationFile(std::string path, const assessment::ResumableStation& from,
              const record::RecordHeader& header, const assessment::WorkstationKey& key);

  /// What the clocks say: stands with every event from now on.
  void tell_clocks(const assessment::ClockReading& clocks) { clocks_ = clocks; }
  /// With the time of day.
  void event(Tick at_ms, const std::string& what, nlohmann::json detail);
  /// The comment, if there is one, and the last line.
  void close(Tick at_ms, const std::string& comment);
  /// Tries a full disk again; true: nothing waits.
  bool flush();

  /// What the candidate or the invigilator should be told now.
  [[nodiscard]] std::optional<Problem> problem() const;
  [[nodiscard]] const std::string& path() const { return path_; }
  assessment::StationWriter& writer() { return writer_; }
  void sync() { sync_.want(); }

 private:
  std::string path_;
  assessment::StationWriter writer_;
  DiskSync sync_;
  assessment::ClockReading clocks_;
};

/// What the examination hands its lines to.
class StationKeeper final : public screens::examine::RecordKeeper {
 public:
  explicit StationKeeper(std::shared_ptr<StationFile> file) : file_(std::move(file)) {}
  void act(const Act& act) override { file_->writer().act(act); }
  void reply(const Reply& reply) override { file_->writer().reply(reply); }
  void state(Tick at_ms, std::uint64_t hash) override;
  /// The card is handed in; the file's last line waits for a comment.
  void end(Tick at_ms) override;
  [[nodiscard]] std::optional<Problem> problem() const override;

 private:
  std::shared_ptr<StationFile> file_;
};

}  // namespace redress::app
