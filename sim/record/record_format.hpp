// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// What a record is. UTF-8, one JSON object a line, LF after each, each line chained to the one
// before (sim/record/chain.hpp):
//   {"format":"redress-record","version":1,"engine":...,"arithmetic":...,"tick_ms":1,"seed":...,
//    "noise":...,"case_hash":...,"case":{...},"chain":...}
//   {"seq":0,"at_ms":0,"act":"show_target",...,"chain":...}     acts as they were done
//   {"at_ms":250,"state":"0123456789abcdef","chain":...}      every 250 ms, before that tick's acts
//   {"at_ms":900,"reply":{"to":...,"answer":...,"text":...},"chain":...}
//   {"at_ms":61000,"end":true,"chain":...}
// Lines are compact JSON as nlohmann::json writes it. The case hash is BLAKE2b-256 of the case as
// compact JSON with sorted keys.
#pragma once

#include <cstdint>
#include <nlohmann/json.hpp>
#include <string>
#include <string_view>

#include "sim/room/act.hpp"

namespace redress::record {

inline constexpr std::string_view kFormat = "redress-record";
inline constexpr std::int64_t kVersion = 1;
inline constexpr std::string_view kEngineVersion = "0.1.0";
inline constexpr Tick kStateEveryMs = 250;
/// Two days: the last tick of a run. Acts end a day earlier (kLatestTick in act_json.hpp).
inline constexpr Tick kLatestEnd = 172'800'000;
inline constexpr double kMostNoise = 10.0;
/// Seeds pass through JSON readers that know doubles only.
inline constexpr std::uint64_t kLargestSeed = (std::uint64_t{1} << 53) - 1;

/// The first line.
struct RecordHeader {
  std::string engine{kEngineVersion};
  std::string arithmetic;  ///< 16 hexadecimal digits of elementary::arithmetic_check()
  std::uint64_t seed = 1;
  double noise = 1.0;
  std::string case_hash;  ///< 64 hexadecimal digits
  nlohmann::json the_case;
};

/// The header of an examination by this engine. `the_case` as the case room writes it.
RecordHeader make_header(nlohmann::json the_case, std::uint64_t seed, double noise);

std::string calc_case_hash(const nlohmann::json& the_case);

}  // namespace redress::record
