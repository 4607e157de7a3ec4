// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// A rehearsal that runs beside the window, on all processors, and can be stopped.
#pragma once

#include <atomic>
#include <cstddef>
#include <future>
#include <memory>
#include <optional>
#include <vector>

#include "sim/assessment/rehearse_circuit.hpp"

namespace redress::app {

/// A station's forms, tried with every habit. Shared, since preparing is slow and a station may be
/// rehearsed again unchanged; none for a rest.
using PreparedStation = std::shared_ptr<const std::vector<assessment::PreparedForm>>;

struct Rehearsed {
  assessment::Cohort cohort;
  assessment::CohortFigures figures;
};

class Rehearsing {
 public:
  Rehearsing() = default;
  /// Stops what runs.
  ~Rehearsing();
  Rehearsing(const Rehearsing&) = delete;
  Rehearsing& operator=(const Rehearsing&) = delete;

  void begin(assessment::Circuit circuit, std::vector<PreparedStation> stations,
             const assessment::RehearsalPlan& plan);
  void stop();
  [[nodiscard]] bool is_running() const { return running_.valid(); }
  /// Candidates so far.
  [[nodiscard]] std::size_t done() const;
  /// What came out, once; nothing if it was stopped. `waits`: for it, however long.
  std::optional<Rehearsed> take(bool waits);

 private:
  struct Progress {
    std::atomic<std::size_t> done = 0;
    std::atomic<bool> stopped = false;
  };
  std::shared_ptr<Progress> progress_;
  std::future<std::optional<Rehearsed>> running_;
};

}  // namespace redress::app
