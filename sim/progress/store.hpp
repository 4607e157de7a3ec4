// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The file of progress: SQLite, one file for all learners of this machine. What is entered is there
// whole or not at all, also where power or disk gives out in the middle. A file that is damaged, is
// something else or was written by a newer version is refused and not touched.
#pragma once

#include <memory>
#include <optional>
#include <string>

#include "sim/basics/problem.hpp"
#include "sim/progress/history.hpp"

struct sqlite3;

namespace redress::progress {

inline constexpr int kStoreVersion = 1;

class Store {
 public:
  /// Makes the file if there is none. Problems name what is wrong with it, for the user.
  static Result<Store> open(const std::string& path);

  /// None: it is entered, and safe. Otherwise nothing was changed.
  std::optional<Problem> add(const ExaminationEntry& entry);
  std::optional<Problem> add(const DrillEntry& entry);
  /// What this patient has was shown to this learner, by an example.
  std::optional<Problem> mark_shown(const std::string& learner, const std::string& case_key);

  [[nodiscard]] Result<History> read(const std::string& learner) const;
  /// An example was shown, or an examination finished, of this case.
  [[nodiscard]] bool was_shown(const std::string& learner, const std::string& case_key) const;

  /// At most so many pages: what a full disk does, for tests.
  void limit_pages(int pages);

 private:
  struct Close {
    void operator()(sqlite3* file) const;
  };
  using File = std::unique_ptr<sqlite3, Close>;
  explicit Store(File file) : file_(std::move(file)) {}

  File file_;
};

}  // namespace redress::progress
