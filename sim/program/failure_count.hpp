// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// How many wrong passphrases in a row an account has tried on a circuit, over all its runs, on the
// command line and in the window: to stop the program and start it again is no way round the wait.
#pragma once

#include <string>

#include "sim/assessment/keys.hpp"

namespace redress::program {

/// XDG_STATE_HOME or ~/.local/state; empty where the account has no home: nothing is kept then.
std::string find_state_folder();

/// Holds the count, in a small file of its own, while a passphrase is tried: runs take turns.
class FailureCount {
 public:
  /// Waits until no other run holds it.
  explicit FailureCount(const assessment::CircuitId& circuit,
                        const std::string& folder = find_state_folder());
  ~FailureCount();
  FailureCount(const FailureCount&) = delete;
  FailureCount& operator=(const FailureCount&) = delete;

  [[nodiscard]] int count() const { return count_; }
  void set(int count);

 private:
  int descriptor_ = -1;
  int count_ = 0;
};

/// As it stands, without waiting for a run that holds it.
int read_failures(const assessment::CircuitId& circuit,
                  const std::string& folder = find_state_folder());

}  // namespace redress::program
