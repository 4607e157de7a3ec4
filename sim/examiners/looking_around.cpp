// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/examiners/looking_around.hpp"

#include <algorithm>
#include <string_view>
#include <vector>

#include "sim/basics/elementary.hpp"
#include "sim/examiners/cover_test.hpp"
#include "sim/examiners/signs.hpp"

namespace redress::examiners {

namespace {

using elementary::magnitude;

constexpr Tick kTurnMs = 1500;
constexpr int kTransfers = 4;
constexpr double kIncomitantPd = 5.0;
constexpr double kStepPd = 1.5;  // by which one side has to be worse: less is not read off eyes
constexpr double kLeastHighPd = 1.0;

Shown larger(Shown a, Shown b) { return size_of(a) >= size_of(b) ? a : b; }

// Straight to the target at 6 m, whose direction from each eye an examiner in front can tell.
bool gets_there(const TakenUp& t, Place target) {
  constexpr double kShortDeg = 5.0;  // practice: limits of 5 degrees and more are told
  return elementary::hypotenuse(t.to.horizontal_deg - target.horizontal_deg,
                                t.to.vertical_deg - target.vertical_deg) < kShortDeg;
}

// What either eye showed when it was bared. An eye that does not get to the target drives its
// fellow too far: then what counts is how far it stood from the target, with the fellow fixing.
Shown alternate_here(Consulting& room, const Manner& manner, Place target) {
  begin_alternating(room);
  const std::vector<TakenUp> all = alternate(room, manner, kTransfers);
  open_both(room, kTurnMs);
  PerEye<std::vector<Shown>> moved;
  PerEye<std::vector<Shown>> stood;
  PerEye<int> short_of{};
  for (const TakenUp& t : all) {
    moved[t.eye].push_back(calc_shown(t.eye, t.from, t.to));
    stood[t.eye].push_back(calc_shown(t.eye, t.from, target));
    if (!gets_there(t, target)) ++short_of[t.eye];
  }
  for (const Eye eye : kBothEyes) {
    const bool hampered = 2 * short_of[eye] > static_cast<int>(moved[eye].size());
    if (hampered && 2 * short_of[fellow(eye)] <= static_cast<int>(moved[fellow(eye)].size())) {
      return find_middle(stood[eye]);
    }
  }
  return larger(find_middle(moved.right), find_middle(moved.left));
}

double apart(Shown a, Shown b) {
  return std::max(magnitude(a.horizontal_pd - b.horizontal_pd),
                  magnitude(a.vertical_pd - b.vertical_pd));
}

}  // namespace

bool Around::is_comitant() const {
  return std::max({apart(right, ahead), apart(left, ahead), apart(up, ahead), apart(down, ahead)}) <
         kIncomitantPd;
}

std::string Around::name_weak_muscle() const {
  const double high = ahead.vertical_pd;
  if (magnitude(high) < kLeastHighPd) return "";
  const double sign = high > 0.0 ? 1.0 : -1.0;
  const double by_gaze = sign * (right.vertical_pd - left.vertical_pd);
  const double by_tilt = sign * (tilt_right.vertical_pd - tilt_left.vertical_pd);
  if (magnitude(by_gaze) < kStepPd || magnitude(by_tilt) < kStepPd) return "";
  const bool higher_right = high > 0.0;
  const bool worse_right = by_gaze > 0.0;
  const bool tilt_to_right = by_tilt > 0.0;
  // Recti act in abduction, obliques in adduction. Gaze and tilt to opposite sides: a depressor of
  // the higher eye; to the same side: an elevator of the lower.
  const bool recti = worse_right == higher_right;
  const bool of_higher = worse_right != tilt_to_right;
  const bool right_eye = of_higher == higher_right;
  std::string_view muscle;
  if (of_higher) {
    muscle = recti ? "inferior rectus" : "superior oblique";
  } else {
    muscle = recti ? "inferior oblique" : "superior rectus";
  }
  return (right_eye ? "right " : "left ") + std::string(muscle);
}

bool Around::is_reversing() const {
  constexpr double kLeastEachPd = 2.0;
  const double turned = left.vertical_pd;
  return turned >= kLeastEachPd && right.vertical_pd <= -kLeastEachPd &&
         tilt_right.vertical_pd > 0.0 && tilt_left.vertical_pd < 0.0;
}

std::string Around::name_low_above() const {
  constexpr double kLevelShare = 0.25;
  const double above = magnitude(up.vertical_pd);
  const bool grows = above - magnitude(ahead.vertical_pd) >= kIncomitantPd;
  const double level = std::max(kLeastHighPd, kLevelShare * magnitude(ahead.vertical_pd));
  if (!grows || magnitude(down.vertical_pd) >= level) return "";
  return up.vertical_pd < 0.0 ? "right " : "left ";
}

bool Around::is_sideways() const {
  return magnitude(right.horizontal_pd - left.horizontal_pd) >
         magnitude(right.vertical_pd - left.vertical_pd);
}

std::string Around::name_weak_abduction() const {
  const double most = std::max(right.horizontal_pd, left.horizontal_pd);
  const double least = std::min(right.horizontal_pd, left.horizontal_pd);
  if (most - least < kIncomitantPd || most < kIncomitantPd) return "";
  return right.horizontal_pd > left.horizontal_pd ? "right " : "left ";
}

std::string Around::name_weak_adduction() const {
  const double most = std::max(right.horizontal_pd, left.horizontal_pd);
  const double least = std::min(right.horizontal_pd, left.horizontal_pd);
  if (most - least < kIncomitantPd || least > -kIncomitantPd) return "";
  return left.horizontal_pd < right.horizontal_pd ? "right " : "left ";
}

std::string Around::name_narrowing() const {
  constexpr double kNarrowed = 0.95;  // against the fellow's, of what that was ahead
  const auto narrows = [&](Eye eye, const PerEye<double>& aside) {
    if (open_ahead.right <= 0.0 || open_ahead.left <= 0.0 || aside[fellow(eye)] <= 0.0) {
      return false;
    }
    const double usual = open_ahead[eye] / open_ahead[fellow(eye)];
    return aside[eye] / aside[fellow(eye)] < kNarrowed * usual;
  };
  if (narrows(Eye::right, open_left)) return "right ";
  return narrows(Eye::left, open_right) ? "left " : "";
}

Around look_around(Consulting& room, const Manner& manner, act::ShowTarget target, bool tilt_too) {
  PerEye<double> open{};
  const auto target_now = [&]() -> Place { return {target.horizontal_deg, target.vertical_deg}; };
  const auto at = [&](double horizontal_deg, double vertical_deg) {
    target.horizontal_deg = horizontal_deg;
    target.vertical_deg = vertical_deg;
    room.act(target);
    room.wait(kTurnMs);
    open = find_openings(room);
    return alternate_here(room, manner, target_now());
  };
  const auto tilted = [&](double roll_deg) {
    act::TiltHead tilt;
    tilt.roll_deg = roll_deg;
    room.act(tilt);
    room.wait(kTurnMs);
    return alternate_here(room, manner, target_now());
  };
  Around around;
  const auto look = [&] {
    around.right = at(kGazeDeg, 0.0);
    around.open_right = open;
    around.left = at(-kGazeDeg, 0.0);
    around.open_left = open;
    around.up = at(0.0, kGazeDeg);
    around.down = at(0.0, -kGazeDeg);
    around.ahead = at(0.0, 0.0);
    around.open_ahead = open;
  };
  look();
  if (tilt_too) {
    around.tilt_right = tilted(kTiltDeg);
    around.tilt_left = tilted(-kTiltDeg);
    room.act(act::TiltHead{});
    room.wait(kTurnMs);
  }
  // What is there straight ahead, or with the head on either shoulder, does not vanish on all four
  // sides at once: the patient did not look where the target was, and it is done again.
  const double there = std::max(size_of(around.ahead),
                                std::min(size_of(around.tilt_right), size_of(around.tilt_left)));
  const double elsewhere = std::max(
      {size_of(around.right), size_of(around.left), size_of(around.up), size_of(around.down)});
  if (there >= kIncomitantPd && 3.0 * elsewhere < there) look();
  return around;
}

}  // namespace redress::examiners
