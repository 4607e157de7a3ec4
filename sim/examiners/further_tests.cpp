// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/examiners/further_tests.hpp"

#include <algorithm>
#include <array>
#include <vector>

#include "sim/basics/elementary.hpp"
#include "sim/basics/units.hpp"
#include "sim/examiners/cover_test.hpp"
#include "sim/examiners/prism_bar.hpp"
#include "sim/examiners/watching.hpp"

namespace redress::examiners {

namespace {

using elementary::magnitude;

constexpr Tick kSettleMs = 3000;
constexpr Tick kPlaceMs = 400;
// A usual interpupillary distance (examiners see that it is a usual one; 62 to 64 in adults).
constexpr double kUsualInterpupillaryMm = 62.0;

// Near point.
constexpr double kFromCm = 40.0;
constexpr double kToCm = 4.0;
constexpr double kSpeedCmPerS = 1.5;
constexpr Tick kStepMs = 100;
constexpr double kLostDeg = 2.0;  // by which the eyes no longer point at it together
constexpr Tick kLookMs = 300;
constexpr int kRepeats = 3;

// How far the eyes are turned in, degrees, in the last moments; nothing while a blink hides it.
std::optional<double> find_turned_in(Consulting& room, Tick ms) {
  const auto a = find_alignment(room.glances(), room.now() - ms, room.now() + 1);
  if (!a) return std::nullopt;
  return a->eye.left.horizontal_deg - a->eye.right.horizontal_deg;
}

double calc_demand_deg(double distance_cm) {
  return 2.0 * elementary::arc_tangent(0.05 * kUsualInterpupillaryMm / distance_cm) /
         elementary::kRadiansPerDegree;
}

NearPointReading approach_once(Consulting& room, act::ShowTarget target) {
  target.distance_m = 0.01 * kFromCm;
  target.travel_ms = 0;
  room.act(target);
  room.act(act::Instruct{Instruction::look});
  room.wait(kSettleMs);
  NearPointReading reading;
  const auto start = find_turned_in(room, kPlaceMs);
  if (!start) return reading;
  // What this pair of eyes is off the usual demand, and how it scales with it.
  const double scale = *start / calc_demand_deg(kFromCm);
  const auto is_lost = [&](double cm) {
    const auto turned = find_turned_in(room, kLookMs);
    return turned && scale * calc_demand_deg(cm) - *turned > kLostDeg;
  };
  const double step_cm = kSpeedCmPerS * 0.001 * static_cast<double>(kStepMs);
  double cm = kFromCm;
  const auto move = [&](double by_cm) {
    cm += by_cm;
    target.distance_m = 0.01 * cm;
    room.act(target);
    room.wait(kStepMs);
  };
  int lost_for = 0;
  while (cm > kToCm && lost_for < 8) {
    move(-step_cm);
    lost_for = is_lost(cm) ? lost_for + 1 : 0;
    if (lost_for == 1) reading.break_cm = cm;
    if (lost_for == 0) reading.break_cm.reset();
  }
  if (!reading.break_cm) return reading;
  room.wait(1000);
  while (cm < kFromCm) {
    move(step_cm);
    if (is_lost(cm)) continue;
    reading.recovery_cm = cm;
    break;
  }
  return reading;
}

// ------------------------------------------------------------------------------------- reserves

constexpr Tick kBarMs = 4500;
constexpr double kFollowedShare = 0.5;  // of the label: less, and the eyes did not follow

act::HoldPrism make_prism(double label, bool base_out) {
  act::HoldPrism prism;
  prism.eye = Eye::right;
  prism.power = PrismDioptres{label};
  prism.base = Degrees{base_out ? 180.0 : 0.0};  // ISO 8429, right eye
  return prism;
}

constexpr double kManifestPd = 5.0;
constexpr Tick kWatchMs = 30'000;
constexpr Tick kControlCoverMs = 10'000;

double calc_exo_pd(Consulting& room, Tick ms, double distance_m) {
  const auto turned = find_turned_in(room, ms);
  if (!turned) return 0.0;
  const double off = calc_demand_deg(100.0 * distance_m) - *turned;
  return to_prism_dioptres(Degrees{off}).value;
}

double find_recovery_s(Consulting& room, double distance_m) {
  constexpr Tick kLongestMs = 10'000;
  constexpr Tick kGlanceMs = 200;
  const Tick from = room.now();
  for (Tick waited = 0; waited < kLongestMs; waited += kGlanceMs) {
    room.wait(kGlanceMs);
    if (calc_exo_pd(room, kGlanceMs, distance_m) < kManifestPd && waited > kGlanceMs) {
      return 0.001 * static_cast<double>(room.now() - from);
    }
  }
  return 0.001 * static_cast<double>(kLongestMs) + 1.0;
}

}  // namespace

NearPointReading find_near_point(Consulting& room, act::ShowTarget target) {
  target.horizontal_deg = 0.0;
  target.vertical_deg = 0.0;
  std::vector<NearPointReading> all;
  for (int i = 0; i < kRepeats; ++i) all.push_back(approach_once(room, target));
  // No break is the nearest of all; two equal ones are alike.
  std::stable_sort(all.begin(), all.end(), [](const auto& a, const auto& b) {
    return a.break_cm.value_or(0.0) < b.break_cm.value_or(0.0);
  });
  return all[kRepeats / 2];
}

ReserveReading measure_reserve(Consulting& room, bool base_out) {
  ReserveReading reading;
  room.act(act::Instruct{Instruction::keep_clear});
  room.wait(kSettleMs);
  const auto start = find_turned_in(room, kPlaceMs);
  if (!start) return reading;
  const auto follows = [&](double label) {
    room.act(make_prism(label, base_out));
    room.wait(kBarMs);
    const auto turned = find_turned_in(room, kPlaceMs);
    if (!turned) return true;
    const double turned_in = to_prism_dioptres(Degrees{*turned - *start}).value;
    const double went = base_out ? turned_in : -turned_in;
    return went >= kFollowedShare * label;
  };
  std::size_t i = 0;
  for (; i < std::size(kHorizontalBar); ++i) {
    if (follows(kHorizontalBar[i])) continue;
    reading.break_pd = kHorizontalBar[i];
    break;
  }
  while (reading.break_pd && i > 0 && !reading.recovery_pd) {
    --i;
    if (follows(kHorizontalBar[i])) reading.recovery_pd = kHorizontalBar[i];
  }
  room.act(act::RemovePrism{Eye::right, std::nullopt});
  room.wait(kSettleMs);
  return reading;
}

std::optional<double> measure_ac_a(Consulting& room, const Manner& manner) {
  const auto measure = [&](double lens_d) {
    room.act(act::TrialLenses{{lens_d, lens_d}});
    room.act(act::Instruct{Instruction::keep_clear});
    room.wait(kSettleMs);
    begin_alternating(room);
    std::vector<Shown> shown;
    alternate(room, manner, manner.transfers, shown);
    open_both(room, kSettleMs);
    return find_middle(shown).horizontal_pd;
  };
  const double plus = measure(1.0);
  const double minus = measure(-1.0);
  room.act(act::TrialLenses{});
  room.wait(kSettleMs);
  return 0.5 * (minus - plus);
}

double watch_for_deviation(Consulting& room, double distance_m) {
  constexpr Tick kGlanceMs = 500;
  int out = 0;
  int glances = 0;
  for (Tick t = 0; t < kWatchMs; t += kGlanceMs) {
    room.wait(kGlanceMs);
    ++glances;
    out += calc_exo_pd(room, kGlanceMs, distance_m) >= kManifestPd ? 1 : 0;
  }
  return static_cast<double>(out) / glances;
}

int find_control(Consulting& room, double distance_m, double manifest_share) {
  constexpr double kHalf = 0.5;
  if (manifest_share >= 0.98) return 5;
  if (manifest_share > kHalf) return 4;
  if (manifest_share > 0.0) return 3;
  PerEye<double> seconds;
  const auto cover_once = [&](Eye eye) {
    act::Cover cover;
    cover.eye = eye;
    room.act(cover);
    room.wait(kControlCoverMs);
    room.act(act::Uncover{});
    const double back = find_recovery_s(room, distance_m);
    room.wait(kSettleMs);
    return back;
  };
  for (const Eye eye : kBothEyes) seconds[eye] = cover_once(eye);
  const Eye slower = seconds.right >= seconds.left ? Eye::right : Eye::left;
  const double worst = std::max({seconds.right, seconds.left, cover_once(slower)});
  return worst > 5.0 ? 2 : worst >= 1.0 ? 1 : 0;
}

}  // namespace redress::examiners
