// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The near point as it is tested: the target brought towards the nose with both eyes open, where
// single vision is lost for good, and where it is regained on the way out. Centimetres from the
// head origin.
#pragma once

#include <optional>
#include <vector>

#include "sim/findings/evidence.hpp"

namespace redress::findings {

class ApproachWatch {
 public:
  /// One row, and how things stand at it; `free`: neither eye covered and no prism before either.
  void row(const Observation& row, const Setting& setting, bool free);
  /// After the last row. Approaches that went on for less than kLeastWayCm are not among them.
  std::vector<Approach> finish();
  /// Those that are over.
  [[nodiscard]] const std::vector<Approach>& so_far() const { return approaches_; }

  /// A target that is merely shown nearer is no approach.
  static constexpr double kLeastWayCm = 5.0;

 private:
  void close();

  std::vector<Approach> approaches_;
  std::optional<Approach> open_;
  bool going_out_ = false;
  Tick arrived_ms_ = 0;  // at the closest place so far
  double last_cm_ = -1.0;
  bool was_single_ = false;
};

}  // namespace redress::findings
