// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Clocks of a workstation. A candidate's time is counted by the steady clock alone, which nobody
// can set and which runs on while the machine sleeps; the time of day is written beside each event
// for people. Where the two disagree the time of day was set; where two workstations disagree one
// of them is wrong. Neither gives or takes time. Nothing here reads a clock: readings are passed
// in.
#pragma once

#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include <nlohmann/json.hpp>

#include "sim/assessment/kept_station.hpp"

namespace redress::assessment {

struct ClockReading {
  std::int64_t utc_ms = 0;     ///< time of day, since the beginning of 1970, UTC
  std::int64_t steady_ms = 0;  ///< since any moment; the same one while the machine runs
};

/// Clocks that are kept right by a server move by less than this from one look to the next.
inline constexpr std::int64_t kLeastSetMs = 2000;

/// By how much the time of day was set between two readings of one machine, forward +; none: less
/// than kLeastSetMs.
std::optional<std::int64_t> find_set_by(const ClockReading& before, const ClockReading& after);

/// Both readings into an event's detail, as utc_ms and steady_ms.
void put_reading(const ClockReading& reading, nlohmann::json& detail);
/// None where the event does not say, or says what no clock does.
std::optional<ClockReading> find_reading(const DeskEvent& event);

struct ClockFault {
  Tick at_ms = 0;          ///< the station's own clock
  std::int64_t by_ms = 0;  ///< the time of day, forward +
  bool differs = false;    ///< two workstations or two starts disagree by this at the least
};
/// What the events' times say, whether or not it was noticed at the desk: set while the station
/// went on, or earlier after a resumption than before it.
std::vector<ClockFault> find_clock_faults(std::span<const DeskEvent> events);

/// "1:02:05" or "12 s": for people.
std::string write_span(std::int64_t ms);
/// "set forward by 1:00:00", "set back by 12 s", "behind by 12 s or more of where it began".
std::string to_words(const ClockFault& fault);

}  // namespace redress::assessment
