// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/examiners/signs.hpp"

#include <algorithm>
#include <vector>

#include "sim/basics/elementary.hpp"
#include "sim/basics/units.hpp"
#include "sim/examiners/cover_test.hpp"
#include "sim/examiners/prism_bar.hpp"
#include "sim/examiners/watching.hpp"

namespace redress::examiners {

namespace {

using elementary::magnitude;

constexpr Tick kTurnMs = 1500;
constexpr Tick kOfLateMs = 800;  // longer than a blink
constexpr Tick kTiringMs = 60'000;
constexpr int kTransfers = 4;
constexpr double kLowShare = 0.93;   // of the fellow's opening: three quarters of a millimetre
constexpr double kSankShare = 0.93;  // of its own
constexpr double kChangedPd = 3.0;   // more than two readings by eye differ
// A reflex is told to be central within this (practice: Krimsky to within 5 to 10; judgement).
constexpr double kCentralPd = 1.0;
constexpr double kUsualHalfPupilsM = 0.031;
constexpr Tick kPrismMs = 1000;
constexpr Tick kWanderMs = 6000;

struct Seen {
  Shown shown;
  PerEye<double> open{};
};

Seen look_here(Consulting& room, const Manner& manner) {
  Seen seen;
  seen.open = find_openings(room);
  begin_alternating(room);
  std::vector<Shown> all;
  alternate(room, manner, kTransfers, all);
  open_both(room, kTurnMs);
  seen.shown = find_middle(all);
  return seen;
}

}  // namespace

PerEye<double> find_openings(const Consulting& room) {
  PerEye<double> open{};
  const auto glances = room.glances();
  for (auto it = glances.rbegin(); it != glances.rend(); ++it) {
    if (it->at_ms + kOfLateMs < room.now()) break;
    for (const Eye eye : kBothEyes) {
      if (!it->eye[eye].visible) continue;
      open[eye] = std::max(open[eye], it->eye[eye].lid_open_fraction);
    }
  }
  return open;
}

std::string find_low_lid(const Consulting& room) {
  const PerEye<double> open = find_openings(room);
  if (open.right < kLowShare * open.left) return "right ";
  return open.left < kLowShare * open.right ? "left " : "";
}

bool tires_on_looking_up(Consulting& room, const Manner& manner, act::ShowTarget target) {
  constexpr double kUpDeg = 25.0;
  target.horizontal_deg = target.vertical_deg = 0.0;
  room.act(target);
  room.act(act::Instruct{Instruction::look});
  room.wait(2 * kTurnMs);
  const Seen before = look_here(room, manner);
  target.vertical_deg = kUpDeg;
  room.act(target);
  room.wait(kTiringMs);
  target.vertical_deg = 0.0;
  room.act(target);
  room.wait(2 * kTurnMs);
  const Seen after = look_here(room, manner);
  const bool sank = after.open.right < kSankShare * before.open.right ||
                    after.open.left < kSankShare * before.open.left;
  const bool changed =
      magnitude(after.shown.horizontal_pd - before.shown.horizontal_pd) >= kChangedPd ||
      magnitude(after.shown.vertical_pd - before.shown.vertical_pd) >= kChangedPd;
  return sank || changed;
}

bool sees_near_reflex(Consulting& room) {
  constexpr Tick kWatchMs = 60'000;
  constexpr double kConvergedDeg = 4.0;  // 7 prism dioptres: nobody misses that
  constexpr double kSmallerMm = 0.5;     // a pupil beside what it was
  const Tick from = room.now();
  room.wait(kWatchMs);
  double least_turn = 1e9;
  double most_turn = -1e9;
  double pupil_apart = 0.0;
  double pupil_converged = 0.0;
  const PerEye<double> usual = find_openings(room);
  for (const Glance& g : room.glances()) {
    if (g.at_ms < from || !g.eye.right.visible || !g.eye.left.visible) continue;
    if (g.eye.right.lid_open_fraction < kSankShare * usual.right) continue;  // a blink
    const double turn = g.eye.left.horizontal_deg - g.eye.right.horizontal_deg;
    if (turn < least_turn) {
      least_turn = turn;
      pupil_apart = g.eye.right.pupil_mm;
    }
    if (turn > most_turn) {
      most_turn = turn;
      pupil_converged = g.eye.right.pupil_mm;
    }
  }
  return most_turn - least_turn >= kConvergedDeg && pupil_apart - pupil_converged >= kSmallerMm;
}

std::optional<double> measure_by_reflexes(Consulting& room, Eye seeing, double distance_m) {
  const Eye other = fellow(seeing);
  room.act(act::Penlight{true});
  room.act(act::Instruct{Instruction::look});
  room.wait(kPrismMs + kWanderMs);
  // How far the other eye points beside the light, outward +.
  const auto outward_pd = [&]() -> std::optional<double> {
    // An eye that sees nothing wanders: where it stands in the middle of its wandering.
    const auto place = find_place(room.glances(), other, room.now() - kWanderMs, room.now() + 1);
    if (!place) return std::nullopt;
    const double inward =
        elementary::arc_tangent(kUsualHalfPupilsM / distance_m) / elementary::kRadiansPerDegree;
    const double out_deg = side_of(other) * place->horizontal_deg + inward;
    return to_prism_dioptres(Degrees{out_deg}).value;
  };
  const auto finish = [&](std::optional<double> label) {
    room.act(act::RemovePrism{seeing, std::nullopt});
    room.act(act::Penlight{false});
    room.wait(kPrismMs);
    return label;
  };
  const auto start = outward_pd();
  if (!start) return finish(std::nullopt);
  if (magnitude(*start) < 2.0 * kCentralPd) return finish(0.0);
  const bool exo = *start > 0.0;
  double below = 0.0;
  double left_over = 0.0;
  for (const double label : kHorizontalBar) {
    act::HoldPrism prism;
    prism.eye = seeing;
    prism.power = PrismDioptres{label};
    // Exo: base in. ISO 8429: in at 0 before the right eye, at 180 before the left.
    prism.base = Degrees{exo == (seeing == Eye::right) ? 0.0 : 180.0};
    room.act(prism);
    room.wait(kPrismMs + kWanderMs);
    const auto now = outward_pd();
    if (!now) continue;
    left_over = exo ? *now : -*now;
    if (left_over > kCentralPd) {
      below = label;
      continue;
    }
    const double central = magnitude(left_over) <= kCentralPd ? label : 0.5 * (below + label);
    return finish(exo ? -central : central);
  }
  // The bar's last step, and by eye what it leaves.
  return finish(exo ? -(below + left_over) : below + left_over);
}

bool sees_beats(Consulting& room) {
  constexpr Tick kWatchedMs = 2000;
  constexpr double kBeatDeg = 0.7;
  constexpr int kLeastTurns = 6;
  double last = 0.0;
  double way = 0.0;
  int turns = 0;
  bool begun = false;
  for (const Glance& g : room.glances()) {
    if (g.at_ms < room.now() - kWatchedMs || g.eye.right.lid_open_fraction < 0.85) continue;
    const double here = g.eye.right.horizontal_deg;
    if (!begun) last = here;
    begun = true;
    if (way >= 0.0 ? here > last : here < last) {
      last = here;  // further the same way
    } else if (magnitude(here - last) >= kBeatDeg) {
      way = here - last;
      last = here;
      ++turns;
    }
  }
  return turns >= kLeastTurns;
}

}  // namespace redress::examiners
