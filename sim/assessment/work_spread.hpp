// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Work in pieces that do not know each other. What is here knows no thread: who calls may spread
// the pieces over processors, and the result is the same.
#pragma once

#include <cstddef>
#include <functional>

namespace redress::assessment {

/// Calls work(0) ... work(count - 1), each once, in any order and on as many threads as it likes.
using WorkSpread = std::function<void(std::size_t count, const std::function<void(std::size_t)>&)>;

/// One after another.
inline void work_in_order(std::size_t count, const std::function<void(std::size_t)>& work) {
  for (std::size_t i = 0; i < count; ++i) work(i);
}

}  // namespace redress::assessment
