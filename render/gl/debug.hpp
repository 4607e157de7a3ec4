// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Collects what the driver has to say, so that tests can hold it to nothing.
#pragma once

#include <string>
#include <vector>

#include "render/gl/api.hpp"

namespace redress::gl {

/// While it lives, errors and warnings of the current context gather here. One for each context.
class DebugLog {
 public:
  DebugLog();
  ~DebugLog();
  DebugLog(const DebugLog&) = delete;
  DebugLog& operator=(const DebugLog&) = delete;

  /// Everything above a notification since the start, glGetError included.
  [[nodiscard]] std::vector<std::string> check_messages();
  /// What was said so far was meant to be.
  void forget() { messages_.clear(); }

 private:
  std::vector<std::string> messages_;
};

}  // namespace redress::gl
