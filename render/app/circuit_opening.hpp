// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// A sealed circuit opened in the window: the passphrase is tried on another thread (that takes
// about a second), and after a wrong one the next try waits, longer each time: in this window, in
// the next one and on the command line alike.
#pragma once

#include <future>
#include <optional>
#include <string>

#include "render/screens/assessment/desk_pages.hpp"
#include "sim/assessment/sealed_circuit.hpp"

namespace redress::app {

/// Overwrites it before it is forgotten.
void wipe(std::string& secret);

class CircuitOpening {
 public:
  /// Begins to try what was typed, which is wiped. Hardens the process first. A file that cannot be
  /// read, or is none, is said at once and costs no wait. Where wrong ones were tried before this
  /// window was opened nothing is tried or wiped until their wait is over.
  void try_passphrase(const std::string& path, std::string& typed, double now_ms);
  /// Once when it opened. Waits for a running try if `wait` (tests).
  std::optional<assessment::OpenedCircuit> take(double now_ms, bool wait = false);
  /// Fills in trouble, busy and waits.
  void tell(screens::assessment::PassphraseModel& model, double now_ms) const;
  /// What was said last still holds: the file, or the passphrase.
  [[nodiscard]] bool has_failed() const { return failures_ > 0 || !trouble_.empty(); }
  /// A try runs, or the next one is waited for: what is shown changes by itself.
  [[nodiscard]] bool is_live(double now_ms) const {
    return trying_.valid() || now_ms < not_before_;
  }

 private:
  struct Tried {
    Result<assessment::OpenedCircuit> opened;
    int failures = 0;  // in a row, over all runs
  };
  std::future<Tried> trying_;
  std::optional<assessment::CircuitId> known_;  // whose failures were counted
  int failures_ = 0;
  bool before_this_window_ = false;  // that is when they were
  double not_before_ = 0;  // the next try, ms
  std::string trouble_;
};

}  // namespace redress::app
