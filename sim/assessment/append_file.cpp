// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/assessment/append_file.hpp"

#include <fcntl.h>
#include <unistd.h>

#include <cerrno>

#include "sim/basics/file.hpp"

namespace redress::assessment {

namespace {

// A new file survives a power cut once its folder's entry is on the disk.
void sync_folder_of(const std::string& path) {
  const std::size_t slash = path.rfind('/');
  const std::string folder = slash == std::string::npos ? "." : path.substr(0, slash + 1);
  const int descriptor = ::open(folder.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC);
  if (descriptor < 0) return;
  (void)::fsync(descriptor);
  ::close(descriptor);
}

}  // namespace

AppendFile::AppendFile(const std::string& path, Mode mode, std::size_t keep_bytes, bool synced)
    : synced_(synced) {
  // Readable by its owner alone; not inherited by other programs.
  const int flags = O_WRONLY | O_APPEND | O_CLOEXEC | (mode == Mode::create ? O_CREAT | O_EXCL : 0);
  descriptor_ = ::open(path.c_str(), flags, 0600);
  if (descriptor_ < 0) {
    problem_ = Problem{"", "cannot be opened for writing: " + system_message(errno)};
    return;
  }
  if (mode == Mode::create && synced) sync_folder_of(path);
  if (mode == Mode::go_on && ::ftruncate(descriptor_, static_cast<off_t>(keep_bytes)) != 0) {
    problem_ = Problem{"", "cannot be continued: " + system_message(errno)};
    ::close(descriptor_);
    descriptor_ = -1;
  }
}

AppendFile::~AppendFile() {
  if (descriptor_ < 0) return;
  (void)flush();
  ::close(descriptor_);
}

void AppendFile::append(std::string_view bytes) { waiting_.append(bytes); }

bool AppendFile::flush() {
  if (descriptor_ < 0) return false;
  std::size_t done = 0;
  while (done < waiting_.size()) {
    const ssize_t written = ::write(descriptor_, waiting_.data() + done, waiting_.size() - done);
    if (written < 0 && errno == EINTR) continue;
    if (written < 0) {
      problem_ = Problem{"", "cannot be written: " + system_message(errno)};
      waiting_.erase(0, done);
      return false;
    }
    done += static_cast<std::size_t>(written);
  }
  waiting_.clear();
  if (synced_ && ::fdatasync(descriptor_) != 0) {
    problem_ = Problem{"", "the disk does not confirm it: " + system_message(errno)};
    return false;
  }
  problem_.reset();
  return true;
}

}  // namespace redress::assessment
