// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/program/spread.hpp"

#include <algorithm>
#include <thread>
#include <vector>

namespace redress::program {

void spread(std::size_t count, int threads, const std::function<void(std::size_t)>& work) {
  const std::size_t n = threads > 0 ? static_cast<std::size_t>(threads)
                                    : std::max<std::size_t>(1, std::thread::hardware_concurrency());
  std::vector<std::thread> others;
  const auto take = [&](std::size_t first) {
    for (std::size_t i = first; i < count; i += n) work(i);
  };
  for (std::size_t t = 1; t < n && t < count; ++t) others.emplace_back(take, t);
  take(0);
  for (std::thread& other : others) other.join();
}

}  // namespace redress::program
