// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The learner's progress and the clock: opens the file in the user's own folder, enters what was
// done with its time, and keeps in memory what could not be written until it can.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "sim/progress/store.hpp"

namespace redress::app {

class ProgressKeeper {
 public:
  /// `folder` empty: there is no home, nothing is kept.
  explicit ProgressKeeper(const std::string& folder);

  /// With the time of now.
  void enter(progress::ExaminationEntry entry);
  void enter(progress::DrillEntry entry);
  void mark_shown(const std::string& learner, const std::string& case_key);
  [[nodiscard]] bool was_shown(const std::string& learner, const std::string& case_key) const;
  /// What is on disk and what waits for it, in order of time.
  [[nodiscard]] progress::History read(const std::string& learner);
  /// Tries again what could not be written.
  void catch_up();
  /// For the user; empty: all is well.
  [[nodiscard]] const std::string& trouble() const { return trouble_; }

  [[nodiscard]] static std::int64_t now_s();

 private:
  template <class Entry>
  void write(std::vector<Entry>& waiting);

  std::optional<progress::Store> store_;
  std::string refused_;  // why there is no store
  std::string trouble_;
  std::vector<progress::ExaminationEntry> examinations_;  // not written yet
  std::vector<progress::DrillEntry> drills_;
};

}  // namespace redress::app
