// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// What sitting a circuit needs beside engine and record: how long a station is for this candidate,
// which instrument an act takes, where a candidate stands by what a workstation has kept, and the
// patient on whom everybody practises.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>

#include <nlohmann/json.hpp>

#include "sim/assessment/circuit.hpp"
#include "sim/assessment/kept_station.hpp"
#include "sim/room/act.hpp"

namespace redress::assessment {

/// What a candidate has beyond the station's own time.
struct TimeTerms {
  std::int64_t extra_percent = 0;  ///< for this candidate, of reading and station alike
  Tick credit_ms = 0;              ///< given at the desk, with reasons
  bool operator==(const TimeTerms&) const = default;
};
/// As the events of a kept station say: "began" with extra_percent, each "time_credit" with ms.
TimeTerms read_terms(std::span<const DeskEvent> events);
/// The hard stop, on the station's own clock.
Tick calc_station_ms(const Station& station, const TimeTerms& terms);
Tick calc_reading_ms(const Station& station, const TimeTerms& terms);

/// How far a station has come, from its events. A resumed one goes on there.
struct StationProgress {
  Tick reading_used_ms = 0;  ///< by the last "reading"
  bool reading_done = false;
  bool handed_in = false;  ///< only the comment and the last line were missing
};
StationProgress read_progress(std::span<const DeskEvent> events);

/// What an act takes into the hands; none: it needs nothing.
std::optional<Instrument> find_instrument(const ActContent& content);
/// Loose prisms do what a bar does, more slowly.
bool allows(const Station& station, Instrument instrument);

/// Letters, digits, dots and dashes, 1 ... 20: it becomes part of a file's name.
bool is_candidate_number(std::string_view text);
/// "0417-4.station".
std::string make_station_name(std::string_view candidate, std::size_t station);

/// The practice minute's patient: the same neutral one for everybody, whatever is installed.
nlohmann::json practice_case();

}  // namespace redress::assessment
