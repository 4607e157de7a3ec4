// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Acts as JSON: {"at_ms": 1000, "act": "cover", "eye": "right"}. The same objects stand in lists of
// acts and in records, one a line. Units are part of each key; signs: sim/basics/eye.hpp. The keys
// and their ranges are listed once, in sim/record/act_fields.hpp.
#pragma once

#include <cstddef>
#include <nlohmann/json.hpp>
#include <string>
#include <string_view>
#include <vector>

#include "sim/basics/problem.hpp"
#include "sim/room/act.hpp"

namespace redress::record {

/// A day. Nothing that is examined lasts longer, and a slip of the finger must not run for a year.
inline constexpr Tick kLatestTick = 86'400'000;
/// An hour of a hand moving an occluder, written at 250 Hz.
inline constexpr std::size_t kMostActs = 1'000'000;

/// Every key of the act is written, its defaults too. A base that is exactly in, out, up or down is
/// written as that word.
nlohmann::json to_json(const Act& act);

/// The same with the keys in reading order: at_ms, act, then its own.
nlohmann::ordered_json to_ordered_json(const Act& act);

/// One line of compact JSON without LF.
std::string format_act(const Act& act);

/// Problems have `place` before their JSON pointer: "line 3" gives "line 3 /eye".
Result<Act> parse_act(const nlohmann::json& value, std::string_view place = {});

/// What would be wrong with this act in a file: values out of range, NaN, text that is too long.
Problems check_act(const Act& act);

/// A list of acts: one JSON object a line, blank lines allowed, or one JSON array of the objects.
/// An empty text is an empty list. In order of at_ms; equal times keep the order of the file.
Result<std::vector<Act>> parse_acts(std::string_view text);

}  // namespace redress::record
