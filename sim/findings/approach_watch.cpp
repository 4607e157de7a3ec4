// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/findings/approach_watch.hpp"

#include <utility>

namespace redress::findings {

namespace {

constexpr double kWithinReachCm = 60.0;
constexpr double kLeastMoveCm = 1e-6;   // between two rows
constexpr double kLongestJumpCm = 5.0;  // more at once is another target, not a moved one

}  // namespace

void ApproachWatch::row(const Observation& row, const Setting& setting, bool free) {
  const double cm = 100.0 * setting.distance_m;
  const double moved = last_cm_ < 0.0 ? 0.0 : cm - last_cm_;
  const double before = last_cm_;
  last_cm_ = cm;
  if (!free || cm > kWithinReachCm || moved > kLongestJumpCm || moved < -kLongestJumpCm) {
    close();
    was_single_ = row.fused;
    return;
  }
  if (moved < -kLeastMoveCm) {
    if (open_ && going_out_) close();
    if (!open_) {
      open_ = Approach{};
      open_->at_ms = row.at_ms;
      open_->from_cm = before;
      open_->setting = setting;
      was_single_ = row.fused;
    }
    open_->closest_cm = cm;
    arrived_ms_ = row.at_ms;
  } else if (moved > kLeastMoveCm && open_) {
    going_out_ = true;
  }
  if (!open_) return;
  if (was_single_ && !row.fused && !open_->break_cm) open_->break_cm = cm;
  if (open_->break_cm && row.fused && !open_->recovery_cm) {
    if (going_out_) {
      open_->recovery_cm = cm;
    } else {
      open_->break_cm.reset();  // lost for a moment only
    }
  }
  was_single_ = row.fused || was_single_;
}

void ApproachWatch::close() {
  if (open_ && open_->from_cm - open_->closest_cm >= kLeastWayCm) {
    const double seconds = 0.001 * static_cast<double>(arrived_ms_ - open_->at_ms);
    if (seconds > 0.0) {
      open_->speed_cm_per_s = (open_->from_cm - open_->closest_cm) / seconds;
    }
    approaches_.push_back(*open_);
  }
  open_.reset();
  going_out_ = false;
}

std::vector<Approach> ApproachWatch::finish() {
  close();
  return std::move(approaches_);
}

}  // namespace redress::findings
