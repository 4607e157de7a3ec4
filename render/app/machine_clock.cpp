// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/app/machine_clock.hpp"

#include <fmt/chrono.h>
#include <time.h>

namespace redress::app {

namespace {

std::int64_t read_ms(clockid_t clock) {
  timespec now{};
  clock_gettime(clock, &now);
  return std::int64_t{now.tv_sec} * 1000 + now.tv_nsec / 1'000'000;
}

}  // namespace

assessment::ClockReading read_machine_clocks() {
  return {read_ms(CLOCK_REALTIME), read_ms(CLOCK_BOOTTIME)};
}

std::string write_local_time(std::int64_t utc_ms) {
  const std::time_t seconds = utc_ms / 1000;
  std::tm parts{};
  localtime_r(&seconds, &parts);
  return fmt::format("{:%Y-%m-%d %H:%M:%S}", parts);
}

}  // namespace redress::app
