// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// A file that only grows. What cannot be written now (a full disk) stays in memory and is tried
// again with the next line, so that nothing is lost while the program runs.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>

#include "sim/basics/problem.hpp"

namespace redress::assessment {

class AppendFile {
 public:
  enum class Mode { create, go_on };
  /// create: there must be no such file; go_on: it is cut to `keep_bytes` and continued. `synced`:
  /// each flush waits until the disk has it (a power cut loses nothing older than that).
  AppendFile(const std::string& path, Mode mode, std::size_t keep_bytes, bool synced);
  ~AppendFile();
  AppendFile(const AppendFile&) = delete;
  AppendFile& operator=(const AppendFile&) = delete;

  void append(std::string_view bytes);
  /// True: nothing is waiting.
  bool flush();
  [[nodiscard]] std::size_t waiting_bytes() const { return waiting_.size(); }
  /// Why something is waiting, or why the file could not be opened.
  [[nodiscard]] const std::optional<Problem>& problem() const { return problem_; }

 private:
  int descriptor_ = -1;
  bool synced_ = false;
  std::string waiting_;
  std::optional<Problem> problem_;
};

}  // namespace redress::assessment
