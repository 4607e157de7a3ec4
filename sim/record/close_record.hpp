// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// A record that was cut short, ended where it stops, so that it replays and scores as far as it
// goes. That it was cut is known where it is kept (sim/assessment/kept_station.hpp), not here.
#pragma once

#include <string>
#include <string_view>

#include "sim/basics/problem.hpp"

namespace redress::record {

/// The text with its closing line at the last tick that it tells of; a whole record as it is. Left
/// out are replies that stand last of all, since their tick may have had more. Refuses what is
/// altered and what was cut before it began.
Result<std::string> close_record(std::string_view text);

}  // namespace redress::record
