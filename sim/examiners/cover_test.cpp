// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/examiners/cover_test.hpp"

#include <algorithm>

#include "sim/basics/elementary.hpp"
#include "sim/examiners/alternate_by_eye.hpp"
#include "sim/findings/recovery.hpp"

namespace redress::examiners {

namespace {

using elementary::magnitude;

constexpr Tick kTravelMs = 250;
constexpr Tick kPlaceMs = 400;  // over which a place at rest is told
// An eye takes up fixation within a second of seeing, corrections included.
constexpr Tick kTakenUpMs = 900;
constexpr Tick kBuildUpMs = 3500;       // nearly four of the usual time constants of 0.9 s
constexpr Tick kEncourageMs = 1200;     // into a long cover
constexpr Tick kLookAgainMs = 500;      // while the eyes are still on the way
constexpr double kStillMovingPd = 0.6;  // in that time

// A movement of the open eye smaller than this is not told from its unsteadiness in one cover.
constexpr double kManifestPd = 1.0;
// What is out of line, of a deviation, when it has not come back.
constexpr double kNotBackShare = 0.4;
constexpr double kNotBackPd = 2.0;
constexpr double kSettledShare = 0.05;  // 95 % of the way back
constexpr double kSettledPd = 0.7;
// A latent deviation smaller than this is written as none (2 is what is usually seen; Ludvigh 1949,
// from memory).
constexpr double kLeastLatentPd = 1.5;
constexpr double kLeastVerticalPd = 0.75;
constexpr double kFlickPd = 10.0;  // Lang 1974; Parks 1969: microtropia is smaller
// Holding fixation with either eye on most occasions is alternation (common practice, no source).
constexpr double kMostly = 0.75;

act::Cover cover(Eye eye) { return {.eye = eye, .travel_ms = kTravelMs}; }
act::Uncover uncover() { return {.travel_ms = kTravelMs}; }

void encourage(Consulting& room) { room.act(act::Instruct{Instruction::look}); }

bool still_moving(Consulting& room) {
  const Tick now = room.now();
  const auto earlier = find_alignment(room.glances(), now - 2 * kLookAgainMs, now - kLookAgainMs);
  const auto later = find_alignment(room.glances(), now - kLookAgainMs, now);
  return earlier && later && size_of(calc_change(*earlier, *later)) > kStillMovingPd;
}

void read_uncovering(Consulting& room, Tick uncovered_at, CoverReading& r) {
  const auto& glances = room.glances();
  const Tick now = room.now();
  r.after = find_alignment(glances, now - kPlaceMs, now);
  const std::optional<Tick> free_at = find_appearing(glances, r.covered, uncovered_at);
  if (!free_at || !r.before || !r.after) return;
  const auto emerging = find_place_on_appearing(glances, r.covered, uncovered_at);
  const auto fixing = find_place(glances, fellow(r.covered), uncovered_at - 200, *free_at + 80);
  if (!emerging || !fixing) return;
  Alignment apart;
  apart.eye[r.covered] = *emerging;
  apart.eye[fellow(r.covered)] = *fixing;
  r.built_up = calc_change(*r.before, apart);
  r.left_over = calc_change(*r.before, *r.after);
  const double tolerance = std::max(kSettledShare * size_of(*r.built_up), kSettledPd);
  if (const auto settled = find_settling(glances, *free_at, now, tolerance)) {
    r.recovery_ms = *settled - *free_at;
  }
  const Shown stayed = calc_shown(fellow(r.covered), *fixing, r.after->eye[fellow(r.covered)]);
  const Shown came = calc_shown(r.covered, *emerging, r.after->eye[r.covered]);
  r.fellow_holds = size_of(stayed) < size_of(came) || size_of(stayed) < kManifestPd;
}

CoverReading cover_once(Consulting& room, const Manner& manner, Eye eye) {
  CoverReading r;
  r.covered = eye;
  encourage(room);
  room.wait(manner.open_before_ms);
  const Tick covered_at = room.now();
  r.before = find_alignment(room.glances(), covered_at - kPlaceMs, covered_at);
  room.act(cover(eye));
  const Tick first = std::min(kEncourageMs, manner.cover_ms);
  room.wait(first);
  if (manner.cover_ms > 2 * kEncourageMs) encourage(room);
  room.wait(manner.cover_ms - first);
  const auto taken_up = find_place(room.glances(), fellow(eye), covered_at + kTakenUpMs,
                                   std::min(covered_at + 3 * kTakenUpMs, room.now()));
  if (r.before && taken_up) {
    r.fellow_on_cover = calc_shown(fellow(eye), r.before->eye[fellow(eye)], *taken_up);
  }
  const Tick uncovered_at = room.now();
  room.act(uncover());
  room.wait(manner.open_after_ms);
  while (room.now() - uncovered_at < manner.longest_open_ms && still_moving(room)) {
    room.wait(kLookAgainMs);
  }
  read_uncovering(room, uncovered_at, r);
  return r;
}

bool has_come_back(const CoverReading& r) {
  if (!r.built_up || !r.left_over) return true;
  const double allowed = std::max(kNotBackPd, kNotBackShare * size_of(*r.built_up));
  return size_of(*r.left_over) < allowed;
}

// The movements of one eye when its fellow was covered.
std::vector<Shown> movements_of(const std::vector<CoverReading>& readings, Eye eye) {
  std::vector<Shown> shown;
  for (const CoverReading& r : readings) {
    if (fellow(r.covered) == eye && r.fellow_on_cover) shown.push_back(*r.fellow_on_cover);
  }
  return shown;
}

// How often this eye kept fixation when its fellow was bared again.
bool mostly_holds(const std::vector<CoverReading>& readings, Eye eye) {
  int held = 0;
  int seen = 0;
  for (const CoverReading& r : readings) {
    if (fellow(r.covered) != eye || !r.after) continue;
    ++seen;
    if (r.fellow_holds) ++held;
  }
  return seen > 0 && held >= kMostly * seen;
}

// The eyes did not always come back, and one of them kept fixation at one time and not at another:
// too little has been seen to tell which eye deviates.
bool asks_for_more(const std::vector<CoverReading>& readings) {
  PerEye<int> held{};
  PerEye<int> seen{};
  bool all_back = true;
  for (const CoverReading& r : readings) {
    all_back = all_back && has_come_back(r);
    if (!r.after) continue;
    ++seen[r.covered];
    if (r.fellow_holds) ++held[r.covered];
  }
  const auto differs = [&](Eye eye) { return held[eye] > 0 && held[eye] < seen[eye]; };
  return !all_back && (differs(Eye::right) || differs(Eye::left));
}

FindingEye name_eye(bool right_holds, bool left_holds, FindingEye otherwise) {
  if (right_holds && left_holds) return FindingEye::alternating;
  if (right_holds) return FindingEye::left;
  if (left_holds) return FindingEye::right;
  return otherwise;
}

RecoveryGrade grade(const std::vector<CoverReading>& readings) {
  std::vector<double> times;
  int not_back = 0;
  for (const CoverReading& r : readings) {
    if (!has_come_back(r)) {
      ++not_back;
    } else if (r.recovery_ms) {
      times.push_back(static_cast<double>(*r.recovery_ms));
    }
  }
  if (not_back > 0 && 2 * not_back >= static_cast<int>(readings.size())) {
    return RecoveryGrade::none;
  }
  if (times.empty()) return RecoveryGrade::rapid;
  return findings::grade_recovery(find_middle(std::move(times)));
}

// The furthest that the eyes, both open, were found from where they stood at another time.
double find_spread(const std::vector<CoverReading>& readings) {
  std::vector<Alignment> open;
  for (const CoverReading& r : readings) {
    if (r.before) open.push_back(*r.before);
    if (r.after) open.push_back(*r.after);
  }
  double spread = 0.0;
  for (const Alignment& a : open) {
    for (const Alignment& b : open) spread = std::max(spread, size_of(calc_change(a, b)));
  }
  return spread;
}

}  // namespace

std::vector<CoverReading> cover_and_uncover(Consulting& room, const Manner& manner) {
  std::vector<CoverReading> readings;
  const auto cover_each = [&] {
    for (int i = 0; i < manner.covers_of_each_eye; ++i) {
      for (const Eye eye : kBothEyes) readings.push_back(cover_once(room, manner, eye));
    }
  };
  cover_each();
  if (asks_for_more(readings)) cover_each();
  return readings;
}

void begin_alternating(Consulting& room) {
  encourage(room);
  room.act(cover(Eye::right));
  room.wait(kTravelMs + kBuildUpMs);
}

std::vector<TakenUp> alternate(Consulting& room, const Manner& manner, int transfers) {
  std::vector<TakenUp> taken;
  encourage(room);
  for (int i = 0; i < transfers; ++i) {
    // The right eye is covered when a sequence begins: the first transfer bares it.
    const Eye to_cover = i % 2 == 0 ? Eye::left : Eye::right;
    const Eye freed = fellow(to_cover);
    const Tick at = room.now();
    room.act(cover(to_cover));
    room.wait(kTravelMs + manner.dwell_ms);
    const auto from = find_place_on_appearing(room.glances(), freed, at);
    const auto to = find_place(room.glances(), freed, at + kTakenUpMs, room.now());
    if (from && to) taken.push_back({freed, *from, *to});
  }
  return taken;
}

void alternate(Consulting& room, const Manner& manner, int transfers,
               std::vector<Shown>& readings) {
  for (const TakenUp& t : alternate(room, manner, transfers)) {
    readings.push_back(calc_shown(t.eye, t.from, t.to));
  }
}

PerEye<std::vector<Shown>> alternate_by_eye(Consulting& room, const Manner& manner, int transfers) {
  PerEye<std::vector<Shown>> shown;
  for (const TakenUp& t : alternate(room, manner, transfers)) {
    shown[t.eye].push_back(calc_shown(t.eye, t.from, t.to));
  }
  return shown;
}

void open_both(Consulting& room, Tick ms) {
  room.act(uncover());
  room.wait(kTravelMs);
  encourage(room);
  room.wait(ms);
}

CoverFinding read_covers(const std::vector<CoverReading>& readings, Shown alternating,
                         double distance_m) {
  CoverFinding found;
  found.distance_m = distance_m;
  found.alternating = alternating;

  PerEye<Shown> moved;
  for (const Eye eye : kBothEyes) moved[eye] = find_middle(movements_of(readings, eye));
  const PerEye<bool> manifest{size_of(moved.right) >= kManifestPd,
                              size_of(moved.left) >= kManifestPd};
  const auto not_back = std::count_if(readings.begin(), readings.end(),
                                      [](const CoverReading& r) { return !has_come_back(r); });
  const double whole = size_of(alternating);
  const bool wanders = find_spread(readings) > std::max(kNotBackPd, kNotBackShare * whole);

  if (manifest.right || manifest.left || not_back > 0) {
    found.kind = FindingKind::tropia;
    found.constancy = wanders ? Constancy::intermittent : Constancy::constant;
    if (wanders) {
      found.eye = name_eye(mostly_holds(readings, Eye::right), mostly_holds(readings, Eye::left),
                           FindingEye::alternating);
      found.shown = alternating;
      found.recovery = grade(readings);
      return found;
    }
    // An eye that moves each time its fellow is covered deviates; if both do, they take turns.
    found.eye = name_eye(!manifest.right, !manifest.left, FindingEye::alternating);
    const Shown angle =
        !manifest.left || size_of(moved.right) > size_of(moved.left) ? moved.right : moved.left;
    found.shown = angle;
    found.flick = size_of(angle) < kFlickPd;
    found.recovery = whole - size_of(angle) > kNotBackPd ? grade(readings) : RecoveryGrade::none;
    return found;
  }
  found.shown = alternating;
  if (magnitude(alternating.horizontal_pd) < kLeastLatentPd) found.shown.horizontal_pd = 0.0;
  if (magnitude(alternating.vertical_pd) < kLeastVerticalPd) found.shown.vertical_pd = 0.0;
  if (size_of(found.shown) > 0.0) found.kind = FindingKind::phoria;
  found.recovery = grade(readings);
  return found;
}

}  // namespace redress::examiners
