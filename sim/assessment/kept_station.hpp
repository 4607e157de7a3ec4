// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// What a workstation keeps of one candidate at one station: the record of the examination, which
// holds the patient and is therefore encrypted to the circuit, and what happened at the desk, in
// clear. UTF-8, one JSON object a line, each signed by the workstation; a signature answers for
// every byte before it, so that no line can be changed, left out, moved or brought from elsewhere
// (sim/assessment/station_lines.hpp).
//   {"format":"redress-station","version":1,"circuit":...,"workstation":...,"candidate":...,
//    "station":4,"key":...,"certificate":...,"secret":...,"header":...,"signature":...}
//   {"at_ms":250,"kept":"base64","signature":...}       lines of the record, at least every 250 ms
//   {"at_ms":9000,"event":"left_window","detail":{"for_ms":9000},"signature":...}
//   {"at_ms":9250,"resumed":{"workstation":...,"key":...,"certificate":...,"secret":...,
//    "header":...},"signature":...}     after a crash: signed from here by the new key
//   {"at_ms":480000,"end":true,"signature":...}
// `secret` is the key of a secretstream, sealed to the circuit; `kept` are its messages.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include <nlohmann/json.hpp>

#include "sim/assessment/keys.hpp"
#include "sim/basics/problem.hpp"
#include "sim/room/act.hpp"

namespace redress::assessment {

inline constexpr std::string_view kStationFormat = "redress-station";
inline constexpr int kStationVersion = 1;
inline constexpr Tick kKeptEveryMs = 250;

/// Whose station it is.
struct StationIdentity {
  CircuitId circuit;
  std::string workstation;
  std::string candidate;
  std::size_t station = 0;  ///< of the circuit, from 0; files say it from 1
};

/// Something at the desk. `what`: began, left_window, came_back, paused, went_on, time_credit,
/// incident, comment, aborted; `detail` an object, with the time of day if the caller knows it.
struct DeskEvent {
  Tick at_ms = 0;  ///< the station's own clock
  std::string what;
  nlohmann::json detail = nlohmann::json::object();
};

enum class Standing : std::uint8_t {
  intact,
  cut_short,  ///< what is there is good, and the rest is missing
  altered,
  other_circuit,  ///< good in itself, and not from this circuit
  newer_version,
  not_a_station,
};

struct StationVerdict {
  Standing standing = Standing::not_a_station;
  std::size_t line = 0;  ///< at fault, from 1
  std::string message;   ///< as in "was altered at line 3: its signature does not fit it"
  StationIdentity identity;
  std::vector<DeskEvent> events;
  std::size_t good_lines = 0;
  std::size_t good_bytes = 0;  ///< their length: where a resumed station goes on
  std::string chain;           ///< of the good lines
  Tick used_ms = 0;            ///< the station's clock at the last good line
  int resumptions = 0;

  [[nodiscard]] bool intact() const { return standing == Standing::intact; }
};

bool is_kept_station(std::string_view text);

/// Needs no secret. Without `circuit` the one that the file names must have certified it.
StationVerdict verify_station(std::string_view text,
                              const std::optional<CircuitId>& circuit = std::nullopt);

struct OpenedStation {
  StationVerdict verdict;  ///< intact or cut short
  std::string record;      ///< its text (sim/record/record_format.hpp), as far as it goes
};
/// For who holds the circuit. Refuses what is altered or of another circuit.
Result<OpenedStation> open_station(std::string_view text, const CircuitKeys& circuit);

}  // namespace redress::assessment
