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
  if (const auto id = read_circuit_id(bytes.value()); !id) return id.problems();
  for (int failures = 0;;) {
    const LockedBytes passphrase = ask_passphrase();
    if (passphrase.size() == 0 && std::cin.eof()) return Problems{{"", "no passphrase was given"}};
    Result<OpenedCircuit> opened = open_circuit(bytes.value(), passphrase.text());
    if (opened) return opened;
    const std::int64_t wait_s = calc_wait_s(++failures);
    ::sleep(static_cast<unsigned>(wait_s));
    if (std::cin.eof() || std::cin.peek() == std::char_traits<char>::eof()) return opened;
    fmt::print(stderr, "That does not open it.\n");
  }
}

}  // namespace redress::program
