// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Pieces of work on all processors of one machine: each thread takes every nth piece and fills in
// places of its own, so that the result is the same however many there are.
#pragma once

#include <cstddef>
#include <functional>

namespace redress::program {

/// Calls work(0) ... work(count - 1), each once. 0 threads: as many as there are processors.
void spread(std::size_t count, int threads, const std::function<void(std::size_t)>& work);

}  // namespace redress::program
