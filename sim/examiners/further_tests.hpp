// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Tests beside cover and prism, done by an examiner who watches the eyes: near point, reserves by
// prism bar, AC/A by lenses, and the office control score of an exodeviation. Prism dioptres and
// centimetres.
#pragma once

#include <optional>

#include "sim/examiners/consulting.hpp"
#include "sim/examiners/habits.hpp"
#include "sim/room/act.hpp"

namespace redress::examiners {

struct NearPointReading {
  std::optional<double> break_cm;
  std::optional<double> recovery_cm;
};
/// Three times at 1.5 cm/s from 40 cm, both eyes open; the middle one counts (repeating it is
/// practice B19).
NearPointReading find_near_point(Consulting& room, act::ShowTarget target);

struct ReserveReading {
  std::optional<double> break_pd;
  std::optional<double> recovery_pd;
};
/// A bar before the right eye, label after label, until the eyes no longer follow, and back. The
/// target is up already.
ReserveReading measure_reserve(Consulting& room, bool base_out);

/// By alternating cover through +1.00 and -1.00 D at the target that is up; lenses off at the end.
std::optional<double> measure_ac_a(Consulting& room, const Manner& manner);

inline constexpr double kControlNearM = 0.33;
/// Half a minute with nothing covered, the eyes watched: the share of it in which one was turned
/// out by 5 or more at this distance (judgement: what is seen without a cover).
double watch_for_deviation(Consulting& room, double distance_m);
/// 0 ... 5 (Mohney & Holmes 2006), given that share: if it was nothing, from three covers of 10 s.
int find_control(Consulting& room, double distance_m, double manifest_share);

}  // namespace redress::examiners
