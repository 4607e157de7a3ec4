// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Cutting and joining lists of acts, for the mends of sim/scoring/mends.hpp.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "sim/room/act.hpp"
#include "sim/scoring/examined.hpp"
#include "sim/scoring/mends.hpp"

namespace redress::scoring {

using ActIndex = std::size_t;

inline constexpr Tick kMendTravelMs = 250;
inline constexpr Tick kMendHandMs = 150;  ///< more than asked for: a hand is no clock

/// Acts from this one on come later.
void delay(std::vector<Act>& acts, ActIndex first, Tick by_ms);
/// The first act at this time or later.
ActIndex find_from(const std::vector<Act>& acts, Tick at_ms);
/// The act with which the occluder was last moved before this row.
std::optional<ActIndex> find_move_before(const std::vector<Act>& acts, Tick row_ms);
/// Puts acts in before another one, which waits, with all that follow, until they are done.
void insert(std::vector<Act>& acts, ActIndex before, const std::vector<Act>& block, Tick lasts_ms);
/// Each eye by itself, twice, and open for long enough after each.
std::vector<Act> cover_each_eye(Tick from_ms, Tick cover_ms, Tick open_ms, Tick& lasts_ms);
/// Eye to eye and back, this often, and open at the end.
std::vector<Act> alternate_cover(Tick from_ms, int transfers, Tick dwell_ms, Tick& lasts_ms);

std::string in_seconds(double ms);

/// How long a cover and an opening are made so that this patient shows all and comes back.
Tick calc_wanted_cover(const Examined& x);
Tick calc_wanted_opening(const Examined& x);
/// One or two lines larger than the worse eye resolves.
double calc_right_size(const Place& place);

// sim/scoring/mends_head.cpp
std::optional<MendedActs> keep_head_low(const Examined& x, std::span<const Act> acts);
// sim/scoring/mends_prism.cpp
std::optional<MendedActs> go_on_to_reversal(const Examined& x, std::span<const Act> acts);
std::optional<MendedActs> hold_before_other_eye(const Examined& x, std::span<const Act> acts);

}  // namespace redress::scoring
