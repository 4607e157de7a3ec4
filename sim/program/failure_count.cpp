// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/program/failure_count.hpp"

#include <fcntl.h>
#include <sys/file.h>
#include <unistd.h>

#include <algorithm>
#include <charconv>
#include <cstdlib>
#include <filesystem>
#include <system_error>

namespace redress::program {

namespace {

constexpr int kMost = 1000;

std::string path_of(const assessment::CircuitId& circuit, const std::string& folder) {
  return folder + "/redress/passphrases-" + to_text(circuit).substr(0, 16);
}

int read_count(int descriptor) {
  char text[16]{};
  int count = 0;
  const ssize_t size = ::pread(descriptor, text, sizeof text - 1, 0);
  if (size > 0) (void)std::from_chars(text, text + size, count);
  return std::clamp(count, 0, kMost);
}

}  // namespace

std::string find_state_folder() {
  if (const char* state = std::getenv("XDG_STATE_HOME"); state != nullptr && *state == '/') {
    return state;
  }
  if (const char* home = std::getenv("HOME"); home != nullptr && *home == '/') {
    return std::string(home) + "/.local/state";
  }
  return "";
}

FailureCount::FailureCount(const assessment::CircuitId& circuit, const std::string& folder) {
  if (folder.empty()) return;
  std::error_code ignored;
  std::filesystem::create_directories(folder + "/redress", ignored);
  descriptor_ = ::open(path_of(circuit, folder).c_str(), O_RDWR | O_CREAT | O_CLOEXEC, 0600);
  if (descriptor_ < 0) return;
  (void)::flock(descriptor_, LOCK_EX);
  count_ = read_count(descriptor_);
}

FailureCount::~FailureCount() {
  if (descriptor_ >= 0) ::close(descriptor_);
}

void FailureCount::set(int count) {
  count_ = std::min(count, kMost);
  if (descriptor_ < 0) return;
  const std::string text = std::to_string(count_) + "\n";
  if (::ftruncate(descriptor_, 0) == 0) {
    (void)!::pwrite(descriptor_, text.data(), text.size(), 0);
  }
}

int read_failures(const assessment::CircuitId& circuit, const std::string& folder) {
  if (folder.empty()) return 0;
  const int descriptor = ::open(path_of(circuit, folder).c_str(), O_RDONLY | O_CLOEXEC);
  if (descriptor < 0) return 0;
  const int count = read_count(descriptor);
  ::close(descriptor);
  return count;
}

}  // namespace redress::program
