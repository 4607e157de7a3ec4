// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/assessment/clocks.hpp"

#include <cstdlib>

#include <fmt/format.h>

namespace redress::assessment {

namespace {

// From 1970 to the year 9999: what is outside is nobody's clock.
constexpr std::int64_t kLatestUtcMs = 253'402'300'799'999;

std::optional<std::int64_t> find_time(const nlohmann::json& detail, const char* key) {
  if (!detail.is_object()) return std::nullopt;
  const auto found = detail.find(key);
  if (found == detail.end() || !found->is_number_integer()) return std::nullopt;
  const auto ms = found->get<std::int64_t>();
  if (ms < 0 || ms > kLatestUtcMs) return std::nullopt;
  return ms;
}

}  // namespace

std::optional<std::int64_t> find_set_by(const ClockReading& before, const ClockReading& after) {
  const std::int64_t by = (after.utc_ms - before.utc_ms) - (after.steady_ms - before.steady_ms);
  if (std::abs(by) < kLeastSetMs) return std::nullopt;
  return by;
}

void put_reading(const ClockReading& reading, nlohmann::json& detail) {
  detail["utc_ms"] = reading.utc_ms;
  detail["steady_ms"] = reading.steady_ms;
}

std::optional<ClockReading> find_reading(const DeskEvent& event) {
  const auto utc = find_time(event.detail, "utc_ms");
  const auto steady = find_time(event.detail, "steady_ms");
  if (!utc || !steady) return std::nullopt;
  return ClockReading{*utc, *steady};
}

std::vector<ClockFault> find_clock_faults(std::span<const DeskEvent> events) {
  std::vector<ClockFault> faults;
  std::optional<ClockReading> before;
  bool resumed = false;  // the steady clocks of two starts have nothing to do with each other
  for (const DeskEvent& event : events) {
    if (event.what == "resumed") resumed = true;
    const auto now = find_reading(event);
    if (!now) continue;
    if (before && resumed) {
      const std::int64_t by = now->utc_ms - before->utc_ms;
      if (by <= -kLeastSetMs) faults.push_back({event.at_ms, by, true});
    } else if (before) {
      if (const auto by = find_set_by(*before, *now)) faults.push_back({event.at_ms, *by, false});
    }
    before = now;
    resumed = false;
  }
  return faults;
}

std::string write_span(std::int64_t ms) {
  const std::int64_t s = (std::abs(ms) + 500) / 1000;
  if (s < 60) return fmt::format("{} s", s);
  if (s < 3600) return fmt::format("{}:{:02}", s / 60, s % 60);
  return fmt::format("{}:{:02}:{:02}", s / 3600, s / 60 % 60, s % 60);
}

std::string to_words(const ClockFault& fault) {
  const std::string span = write_span(fault.by_ms);
  if (fault.differs) {
    return "the clock where it went on is at least " + span + " behind that where it began";
  }
  return fmt::format("the time of day was set {} by {}", fault.by_ms < 0 ? "back" : "forward",
                     span);
}

}  // namespace redress::assessment
