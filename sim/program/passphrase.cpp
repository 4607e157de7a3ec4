// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/program/passphrase.hpp"

#include <fcntl.h>
#include <sys/file.h>
#include <termios.h>
#include <unistd.h>

#include <algorithm>
#include <charconv>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <iostream>
#include <system_error>
#include <utility>

#include <fmt/format.h>

#include "sim/basics/file.hpp"

namespace redress::program {

using namespace assessment;

LockedBytes ask_passphrase() {
  termios shown{};
  const bool terminal = ::isatty(STDIN_FILENO) == 1 && ::tcgetattr(STDIN_FILENO, &shown) == 0;
  if (terminal) {
    termios hidden = shown;
    hidden.c_lflag &= ~static_cast<tcflag_t>(ECHO);
    ::tcsetattr(STDIN_FILENO, TCSANOW, &hidden);
    fmt::print(stderr, "Passphrase: ");
  }
  std::string line;
  std::getline(std::cin, line);
  if (terminal) {
    ::tcsetattr(STDIN_FILENO, TCSANOW, &shown);
    fmt::print(stderr, "\n");
  }
  LockedBytes kept = lock_text(line);
  line.assign(line.size(), '\0');
  return kept;
}

namespace {

// How many wrong passphrases in a row this account has tried on a circuit, over all its runs, in a
// small file of its own. Runs take turns while one is tried. Without a home there is no file.
class FailureCount {
 public:
  explicit FailureCount(const CircuitId& circuit) {
    std::string folder;
    if (const char* state = std::getenv("XDG_STATE_HOME"); state != nullptr && *state == '/') {
      folder = state;
    } else if (const char* home = std::getenv("HOME"); home != nullptr && *home == '/') {
      folder = std::string(home) + "/.local/state";
    } else {
      return;
    }
    std::error_code ignored;
    std::filesystem::create_directories(folder + "/redress", ignored);
    const std::string path = folder + "/redress/passphrases-" + to_text(circuit).substr(0, 16);
    descriptor_ = ::open(path.c_str(), O_RDWR | O_CREAT | O_CLOEXEC, 0600);
    if (descriptor_ < 0) return;
    (void)::flock(descriptor_, LOCK_EX);
    char text[16]{};
    const ssize_t size = ::pread(descriptor_, text, sizeof text - 1, 0);
    if (size > 0) (void)std::from_chars(text, text + size, count_);
    count_ = std::clamp(count_, 0, kMost);
  }
  ~FailureCount() {
    if (descriptor_ >= 0) ::close(descriptor_);
  }
  FailureCount(const FailureCount&) = delete;
  FailureCount& operator=(const FailureCount&) = delete;

  [[nodiscard]] int count() const { return count_; }
  void set(int count) {
    count_ = std::min(count, kMost);
    if (descriptor_ < 0) return;
    const std::string text = std::to_string(count_) + "\n";
    if (::ftruncate(descriptor_, 0) == 0) {
      (void)!::pwrite(descriptor_, text.data(), text.size(), 0);
    }
  }

 private:
  static constexpr int kMost = 1000;
  int descriptor_ = -1;
  int count_ = 0;
};

}  // namespace

Result<OpenedCircuit> open_with_passphrase(const std::string& path) {
  (void)harden_process();
  const Result<std::string> bytes = read_file(path);
  if (!bytes) return bytes.problems();
  const Result<CircuitId> id = read_circuit_id(bytes.value());
  if (!id) return id.problems();
  for (;;) {
    const LockedBytes passphrase = ask_passphrase();
    if (passphrase.size() == 0 && std::cin.eof()) return Problems{{"", "no passphrase was given"}};
    FailureCount failures(id.value());
    // Before it is tried: to stop the program and start it again is no way round.
    ::sleep(static_cast<unsigned>(calc_wait_s(failures.count())));
    Result<OpenedCircuit> opened = open_circuit(bytes.value(), passphrase.text());
    if (opened) {
      if (failures.count() > 0) failures.set(0);
      return opened;
    }
    failures.set(failures.count() + 1);
    if (std::cin.eof() || std::cin.peek() == std::char_traits<char>::eof()) return opened;
    fmt::print(stderr, "That does not open it.\n");
  }
}

}  // namespace redress::program
