// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/program/passphrase.hpp"

#include <termios.h>
#include <unistd.h>

#include <cstdio>
#include <iostream>
#include <utility>

#include <fmt/format.h>

#include "sim/basics/file.hpp"
#include "sim/program/failure_count.hpp"

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
