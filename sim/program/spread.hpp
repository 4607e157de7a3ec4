// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Work on all processors. Each piece fills in a place of its own, so that the result is the same
// however many threads there are.
#pragma once

#include <cstddef>
#include <functional>

namespace redress::program {

/// As many as there are processors, where `wanted` is 0.
int find_threads(int wanted);

/// Calls work(0) ... work(count - 1), each once, in no order: whoever is free takes the next.
/// 0 threads: as many as there are processors.
void spread(std::size_t count, int threads, const std::function<void(std::size_t)>& work);

}  // namespace redress::program
