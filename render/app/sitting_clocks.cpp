// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// A workstation's clocks: how time passes for a candidate, and what is written down and told where
// clocks are set, differ, or the computer stands still. None of it gives anybody time.
#include <fmt/format.h>

#include <algorithm>
#include <utility>

#include "render/app/machine_clock.hpp"
#include "render/app/sitting.hpp"
#include "sim/assessment/clocks.hpp"

namespace redress::app {

namespace as = assessment;
using nlohmann::json;

namespace {

constexpr double kToldEveryMs = 5000;
// What a slow frame or a busy machine may cost and the patient's clock makes up for.
constexpr Tick kStoodStillMs = 1000;
// 09:00 UTC of some day, where nobody has a clock.
constexpr std::int64_t kPlayedFromUtcMs = 1'795'856'400'000;

}  // namespace

void Sitting::look_at_clocks(double now_ms) {
  const as::ClockReading played{kPlayedFromUtcMs + static_cast<std::int64_t>(now_ms),
                                static_cast<std::int64_t>(now_ms)};
  const as::ClockReading now = options_.read_clocks ? options_.read_clocks(now_ms)
                               : options_.is_played ? played
                                                    : read_machine_clocks();
  const as::ClockReading before = knows_clocks_ ? clocks_ : now;
  knows_clocks_ = true;
  clocks_ = now;
  passed_ms_ = std::max<std::int64_t>(0, now.steady_ms - before.steady_ms);
  if (file_) file_->tell_clocks(now);
  const auto by = as::find_set_by(before, now);
  if (!by || !sits()) return;
  log("clock_set", {{"by_ms", *by}, {"was", write_local_time(now.utc_ms - *by)}});
  tell("This computer’s clock was set.",
       fmt::format("By {} {}. This is recorded; your time is not changed.", as::write_span(*by),
                   *by < 0 ? "back" : "forward"));
}

void Sitting::tell(const std::string& strong, const std::string& words) {
  if (room_) {
    room_->tell(strong, words);
  } else {
    notice_ = strong + " " + words;
  }
}

void Sitting::pass_time() {
  if (paused_) return;
  if (step_ == Step::reading) {
    used_ms_ += static_cast<double>(passed_ms_);
    if (used_ms_ >= static_cast<double>(as::calc_reading_ms(station(), terms_))) {
      begin_station();
    } else if (used_ms_ - told_ms_ >= kToldEveryMs) {
      told_ms_ = used_ms_;
      log("reading", {{"used_ms", static_cast<std::int64_t>(used_ms_)}});
    }
  } else if (step_ == Step::rest) {
    used_ms_ += static_cast<double>(passed_ms_);
    if (used_ms_ >= static_cast<double>(as::calc_station_ms(station(), {}))) {
      go_to_next(number_ + 1);
    }
  }
}

void Sitting::charge_standing_still(bool patient_is_there) {
  if (!room_ || step_ != Step::station || paused_) {
    agreed_.reset();
    return;
  }
  if (!agreed_ && !patient_is_there) return;
  const Tick at = room_->session().now();
  if (!agreed_) agreed_ = Agreed{clocks_.steady_ms, at};
  const Tick lost = (clocks_.steady_ms - agreed_->steady_ms) - (at - agreed_->at_ms);
  if (lost < kStoodStillMs || room_->time_left() <= 0) return;
  agreed_ = Agreed{clocks_.steady_ms, at};
  terms_.credit_ms -= lost;
  room_->give_time(-lost);
  log("stood_still", {{"ms", lost}});
  room_->tell(fmt::format("This computer stood still for {}.", as::write_span(lost)),
              "The clock ran on; this is recorded. Tell the invigilator.");
}

std::string Sitting::compare_clocks(const as::StationVerdict& verdict) {
  std::vector<as::DeskEvent> events = verdict.events;
  events.push_back({verdict.used_ms, "resumed", json::object()});
  events.push_back({verdict.used_ms, "now", json::object()});
  as::put_reading(clocks_, events.back().detail);
  const auto faults = as::find_clock_faults(events);
  if (faults.empty() || !faults.back().differs || faults.back().at_ms != verdict.used_ms) return "";
  log("clock_differs", {{"by_ms", faults.back().by_ms}});
  return fmt::format(
      " The clock of this computer is at least {} behind that of {}; this is recorded. The time "
      "that is left does not depend on it.",
      as::write_span(faults.back().by_ms), verdict.identity.workstation);
}

}  // namespace redress::app
