// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/app/frame_clock.hpp"

#include <algorithm>
#include <cmath>

namespace redress::app {

namespace {
constexpr std::int64_t kTickUs = 1000;

std::int64_t to_us(double ms) { return static_cast<std::int64_t>(std::llround(ms * 1000.0)); }
}  // namespace

FrameClock::Due FrameClock::due(bool slipped) const {
  return {passed_us_ / kTickUs,
          static_cast<double>(passed_us_ % kTickUs) / static_cast<double>(kTickUs), slipped};
}

FrameClock::Due FrameClock::advance(double now_ms) {
  const std::int64_t now = to_us(now_ms);
  if (!started_) {
    started_ = true;
    last_us_ = now;
    return due(false);
  }
  if (paused_) return due(false);
  const std::int64_t step = std::max<std::int64_t>(0, now - last_us_);
  last_us_ = std::max(last_us_, now);
  const bool slipped = step > kMostCaughtUpUs;
  passed_us_ += std::min(step, kMostCaughtUpUs);
  return due(slipped);
}

void FrameClock::pause(double now_ms) {
  advance(now_ms);
  paused_ = true;
}

void FrameClock::resume(double now_ms) {
  if (!paused_) return;
  paused_ = false;
  last_us_ = std::max(last_us_, to_us(now_ms));
}

std::int64_t FrameClock::tick_at(double at_ms) const {
  if (!started_) return 0;
  const std::int64_t at = passed_us_ + (to_us(at_ms) - last_us_);
  return at < 0 ? 0 : at / kTickUs;
}

}  // namespace redress::app
