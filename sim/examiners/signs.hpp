// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// What an examiner sees beside the movements of the eyes: lids that hang, narrow or sink, pupils,
// and the reflexes of an eye that no cover can make move.
#pragma once

#include <optional>
#include <string>

#include "sim/examiners/consulting.hpp"
#include "sim/examiners/habits.hpp"
#include "sim/room/act.hpp"

namespace redress::examiners {

/// How far each eye's lids have stood open of late, blinks left out; 0 where it was not seen.
PerEye<double> find_openings(const Consulting& room);

/// The eye whose lid hangs lower than its fellow's, "right ", "left " or empty.
std::string find_low_lid(const Consulting& room);

/// A minute of looking up, and the alternating cover straight ahead before and after it: whether a
/// lid sank or the deviation changed. Healthy ones do neither.
bool tires_on_looking_up(Consulting& room, const Manner& manner, act::ShowTarget target);

/// A minute of looking at one distant target: whether the eyes converge on nothing now and
/// then and the pupils become small with it.
bool sees_near_reflex(Consulting& room);

/// Krimsky: prism before the eye that sees, until the reflex of its fellow is central; to the
/// mid-point of two steps of the bar, beyond its end by eye. The eyes are straight where it comes
/// to 0; nothing if the eye cannot be seen.
std::optional<double> measure_by_reflexes(Consulting& room, Eye seeing, double distance_m);

/// To and fro as often as six times within the last 2 s: beats, not fixation.
bool sees_beats(Consulting& room);

}  // namespace redress::examiners
