// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Many kept stations on their way into a store. What makes a hand-in slow is not the work but the
// wait until the disk confirms a transaction (measured: 25 ms of 26), so that several go in one. A
// station is told to be in only after its transaction is confirmed, and one that is refused keeps
// no other out.
#pragma once

#include <cstddef>
#include <functional>
#include <string>
#include <vector>

#include "sim/assessment/store.hpp"
#include "sim/basics/problem.hpp"

namespace redress::assessment {

class HandInQueue {
 public:
  /// `told` is called once for each station, by the name it was added with: true, it was new;
  /// false, it was there already; or why it is not in. Both outlive this.
  using Told = std::function<void(const std::string& name, const Result<bool>& is_new)>;
  HandInQueue(Store& store, Told told) : store_(store), told_(std::move(told)) {}
  /// Hands in what still waits.
  ~HandInQueue() { flush(); }
  HandInQueue(const HandInQueue&) = delete;
  HandInQueue& operator=(const HandInQueue&) = delete;

  void add(std::string name, HandIn station);
  void flush();

 private:
  // A candidate's circuit of twelve is about 5 MB: a crash before the confirmation costs the sender
  // no more than sending that again.
  static constexpr std::size_t kMostBytes = 8'000'000;
  static constexpr std::size_t kMostStations = 200;

  Store& store_;
  Told told_;
  std::vector<std::string> names_;
  std::vector<HandIn> waiting_;
  std::size_t bytes_ = 0;
};

}  // namespace redress::assessment
