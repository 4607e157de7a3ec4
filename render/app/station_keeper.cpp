// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/app/station_keeper.hpp"

#include <fcntl.h>
#include <unistd.h>

#include <utility>

#include "render/app/machine_clock.hpp"

namespace redress::app {

using nlohmann::json;

DiskSync::DiskSync(const std::string& path)
    : descriptor_(::open(path.c_str(), O_WRONLY | O_CLOEXEC)), thread_([this] { work(); }) {}

DiskSync::~DiskSync() {
  {
    const std::lock_guard<std::mutex> lock(mutex_);
    leaving_ = true;
  }
  wakes_.notify_one();
  thread_.join();
  if (descriptor_ >= 0) ::close(descriptor_);
}

void DiskSync::want() {
  {
    const std::lock_guard<std::mutex> lock(mutex_);
    wanted_ = true;
  }
  wakes_.notify_one();
}

bool DiskSync::failed() const {
  const std::lock_guard<std::mutex> lock(mutex_);
  return failed_;
}

void DiskSync::work() {
  std::unique_lock<std::mutex> lock(mutex_);
  for (;;) {
    wakes_.wait(lock, [this] { return wanted_ || leaving_; });
    if (!wanted_) return;
    wanted_ = false;
    lock.unlock();
    const bool done = descriptor_ >= 0 && ::fdatasync(descriptor_) == 0;
    lock.lock();
    failed_ = !done;
  }
}

// The threads of DiskSync do the waiting: the writer itself does not.
StationFile::StationFile(std::string path, const assessment::StationIdentity& identity,
                         const assessment::WorkstationKey& key, const record::RecordHeader& header)
    : path_(std::move(path)), writer_(path_, identity, key, header, false), sync_(path_) {}

StationFile::StationFile(std::string path, const assessment::ResumableStation& from,
                         const record::RecordHeader& header, const assessment::WorkstationKey& key)
    : path_(std::move(path)), writer_(path_, from, header, key, false), sync_(path_) {}

void StationFile::event(Tick at_ms, const std::string& what, json detail) {
  // What happened between stations brings its own.
  if (!detail.contains("utc_ms")) assessment::put_reading(clocks_, detail);
  detail["at"] = write_local_time(detail["utc_ms"].get<std::int64_t>());
  writer_.event({at_ms, what, std::move(detail)});
  sync();
}

void StationFile::close(Tick at_ms, const std::string& comment) {
  if (!comment.empty()) event(at_ms, "comment", json{{"words", comment}});
  writer_.end(at_ms);
  sync();
}

bool StationFile::flush() {
  const bool done = writer_.flush();
  if (done) sync();
  return done;
}

std::optional<Problem> StationFile::problem() const {
  if (auto problem = writer_.problem()) return problem;
  if (sync_.failed()) return Problem{"", "the disk does not confirm what was written"};
  return std::nullopt;
}

void StationKeeper::state(Tick at_ms, std::uint64_t hash) {
  file_->writer().state(at_ms, hash);
  file_->sync();
}

void StationKeeper::end(Tick at_ms) { file_->event(at_ms, "handed_in", json::object()); }

std::optional<Problem> StationKeeper::problem() const {
  if (!file_->writer().failed()) return std::nullopt;  // a full disk is tried again
  return file_->problem();
}

}  // namespace redress::app
