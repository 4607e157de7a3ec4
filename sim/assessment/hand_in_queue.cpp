// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/assessment/hand_in_queue.hpp"

#include <span>
#include <utility>

namespace redress::assessment {

void HandInQueue::add(std::string name, HandIn station) {
  bytes_ += station.content.size();
  names_.push_back(std::move(name));
  waiting_.push_back(std::move(station));
  if (bytes_ >= kMostBytes || waiting_.size() >= kMostStations) flush();
}

void HandInQueue::flush() {
  const std::vector<HandIn> stations = std::exchange(waiting_, {});
  const std::vector<std::string> names = std::exchange(names_, {});
  bytes_ = 0;
  if (stations.empty()) return;
  const auto together = store_.hand_in(stations);
  for (std::size_t i = 0; i < stations.size(); ++i) {
    if (together) {
      told_(names[i], bool{together.value().is_new[i]});
      continue;
    }
    // One of them is refused, or the store failed: each by itself.
    const auto alone = store_.hand_in(std::span(&stations[i], 1));
    told_(names[i], alone ? Result<bool>(alone.value().added == 1) : alone.problems());
  }
}

}  // namespace redress::assessment
