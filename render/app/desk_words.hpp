// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// What happened at a desk, in words: for the invigilator there and for assessors afterwards.
#pragma once

#include <optional>
#include <span>
#include <string>

#include "sim/assessment/kept_station.hpp"

namespace redress::app {

/// "1:20 left window", "2:00 60 s given: fire bell"; none for what every station has.
std::optional<std::string> describe_event(const assessment::DeskEvent& event);

/// "At the desk: 1:20 left window  ·  1:29 came back"; empty if nothing happened. With what the
/// times say of the clocks, whether or not it was noticed there.
std::string describe_events(std::span<const assessment::DeskEvent> events);

}  // namespace redress::app
