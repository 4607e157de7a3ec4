// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/program/spread.hpp"

#include <algorithm>
#include <atomic>
#include <thread>
#include <vector>

namespace redress::program {

int find_threads(int wanted) {
  if (wanted > 0) return wanted;
  return std::max(1, static_cast<int>(std::thread::hardware_concurrency()));
}

void spread(std::size_t count, int threads, const std::function<void(std::size_t)>& work) {
  std::atomic<std::size_t> next = 0;
  const auto take = [&] {
    for (std::size_t i = next++; i < count; i = next++) work(i);
  };
  std::vector<std::thread> others;
  for (std::size_t t = 1; t < static_cast<std::size_t>(find_threads(threads)) && t < count; ++t) {
    others.emplace_back(take);
  }
  take();
  for (std::thread& other : others) other.join();
}

}  // namespace redress::program
