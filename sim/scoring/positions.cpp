// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/scoring/positions.hpp"

#include <algorithm>
#include <array>
#include <span>
#include <string>
#include <vector>

#include <fmt/format.h>

#include "sim/basics/elementary.hpp"
#include "sim/findings/phrases.hpp"
#include "sim/scoring/called_for.hpp"
#include "sim/scoring/sightings.hpp"
#include "sim/scoring/words.hpp"
#include "sim/truth/procedures.hpp"

namespace redress::scoring {

using elementary::magnitude;
using findings::CoverSpan;
using findings::Phrases;
using findings::Setting;
using findings::WrittenFinding;

namespace {

constexpr double kLeastTiltDeg = 20.0;
constexpr double kSameAngleDeg = 10.0;
constexpr double kRounding = 0.005;

bool is_looking(const Setting& s, double horizontal_deg, double vertical_deg, double roll_deg) {
  return magnitude(s.gaze_horizontal_deg - horizontal_deg) <= kSameAngleDeg &&
         magnitude(s.gaze_vertical_deg - vertical_deg) <= kSameAngleDeg &&
         magnitude(s.roll_deg - roll_deg) <= kSameAngleDeg;
}

}  // namespace

const CoverSpan* find_transfer(const findings::Evidence& evidence, double horizontal_deg,
                               double vertical_deg, double roll_deg) {
  for (const CoverSpan& span : evidence.covers) {
    const bool here = is_looking(span.setting, horizontal_deg, vertical_deg, roll_deg);
    if (span.transfer_in && here) return &span;
  }
  return nullptr;
}

namespace {

bool size_is_right(std::optional<double> written, double truth, bool vertical) {
  const double room = calc_tolerance(truth, vertical, true);
  return magnitude(written.value_or(0.0) - truth) <= room + kRounding;
}

// With either eye fixing, unless it is said which.
bool position_is_right(const Examined& x, const Finding& f) {
  const double horizontal = f.gaze_horizontal_deg.value_or(0.0);
  const double vertical = f.gaze_vertical_deg.value_or(0.0);
  const double roll = f.head_roll_deg.value_or(0.0);
  const auto matches = [&](const truth::Position& p) {
    const bool here = magnitude(p.horizontal_deg - horizontal) <= kSameAngleDeg &&
                      magnitude(p.vertical_deg - vertical) <= kSameAngleDeg &&
                      magnitude(p.roll_deg - roll) <= kSameAngleDeg;
    const bool by = !f.fixing || (*f.fixing == FindingEye::right) == (p.fixing == Eye::right);
    return here && by && size_is_right(f.horizontal_pd, p.horizontal_pd, false) &&
           size_is_right(f.vertical_pd, p.vertical_pd, true);
  };
  const auto& gaze = x.truth.gaze;
  const auto& tilt = x.truth.head_tilt;
  return std::any_of(gaze.begin(), gaze.end(), matches) ||
         std::any_of(tilt.begin(), tilt.end(), matches);
}

std::string say_position(double horizontal_deg, double vertical_deg, double roll_deg) {
  return magnitude(roll_deg) >= kLeastTiltDeg ? "head " + say_tilt(roll_deg)
                                              : "eyes " + say_gaze(horizontal_deg, vertical_deg);
}

/// What was written of a position last; null: nothing that anything done could have shown.
const WrittenFinding* find_written(const Examined& x, const std::array<double, 3>& position) {
  const WrittenFinding* found = nullptr;
  for (const WrittenFinding& entry : x.card.entries) {
    const Finding& f = entry.finding;
    if (f.test != FindingTest::gaze || !has_further_evidence(x, f)) continue;
    const bool here =
        magnitude(f.gaze_horizontal_deg.value_or(0.0) - position[0]) <= kSameAngleDeg &&
        magnitude(f.gaze_vertical_deg.value_or(0.0) - position[1]) <= kSameAngleDeg &&
        magnitude(f.head_roll_deg.value_or(0.0) - position[2]) <= kSameAngleDeg;
    if (here) found = &entry;
  }
  return found;
}

// The covers there, and the movement that they showed.
bool cite_position(const Examined& x, const std::array<double, 3>& position, Mark& mark) {
  std::vector<const CoverSpan*> covers;
  bool alternated = false;
  for (const CoverSpan& span : x.evidence.covers) {
    if (!is_looking(span.setting, position[0], position[1], position[2])) continue;
    covers.push_back(&span);
    alternated = alternated || span.transfer_in;
  }
  if (!alternated) return false;
  const Setting& s = covers.front()->setting;
  const std::string where =
      say_position(s.gaze_horizontal_deg, s.gaze_vertical_deg, s.roll_deg) + ": ";
  if (const auto moved = find_movement(x, covers)) {
    mark.evidence.push_back({moved->start_ms, where + describe_movement(*moved)});
  } else {
    mark.evidence.push_back({covers.front()->from_ms, where + "no movement seen"});
  }
  return true;
}

// Tested and read right all of a position's share, tested and not read right half of it.
double share_of_positions(const Examined& x, std::span<const std::array<double, 3>> wanted,
                          const char* what, Mark& mark) {
  std::size_t done = 0;
  std::size_t right = 0;
  Phrases unread("; ");
  for (const std::array<double, 3>& position : wanted) {
    if (!cite_position(x, position, mark)) continue;
    ++done;
    const WrittenFinding* entry = find_written(x, position);
    if (entry != nullptr && position_is_right(x, entry->finding)) {
      ++right;
      continue;
    }
    const std::string where = say_position(position[0], position[1], position[2]);
    unread.add(where + (entry == nullptr ? " not written" : " not as it is there"));
    if (entry != nullptr) mark.evidence.push_back({entry->at_ms, where + ": as written"});
  }
  if (done < wanted.size()) {
    mark.why += fmt::format("{}: {} of {} positions tested. ", what, done, wanted.size());
  }
  if (!unread.text().empty()) mark.why += fmt::format("{}: {}. ", what, unread.text());
  return 0.5 * static_cast<double>(done + right) / static_cast<double>(wanted.size());
}

bool is_short(const truth::Shortfall& s, SeenWay way) {
  switch (way) {
    case SeenWay::in: return s.in >= truth::kShortDeg;
    case SeenWay::out: return s.out >= truth::kShortDeg;
    case SeenWay::up: return s.up >= truth::kShortDeg;
    case SeenWay::down: return s.down >= truth::kShortDeg;
    case SeenWay::none: break;
  }
  return std::max({s.in, s.out, s.up, s.down}) < truth::kShortDeg;
}

}  // namespace

double share_of_gazes(const Examined& x, Mark& mark) {
  constexpr std::array<std::array<double, 3>, 4> kSides{
      {{25, 0, 0}, {-25, 0, 0}, {0, 25, 0}, {0, -25, 0}}};
  return share_of_positions(x, kSides, "Gaze", mark);
}

double share_of_tilts(const Examined& x, Mark& mark) {
  constexpr std::array<std::array<double, 3>, 2> kTilts{{{0, 0, 30}, {0, 0, -30}}};
  return share_of_positions(x, kTilts, "Head tilt", mark);
}

double share_of_movements(const Examined& x, Mark& mark) {
  if (!x.evidence.looked_aside) {
    mark.why += "The eyes were not taken to the sides. ";
    return 0.0;
  }
  const WrittenFinding* entry = find_last(x, FindingTest::motility);
  if (entry == nullptr || !entry->finding.falls_short.right || !entry->finding.falls_short.left) {
    mark.why += "How far either eye turns was not written. ";
    return 0.5;
  }
  mark.evidence.push_back({entry->at_ms, "eye movements as written"});
  const PerEye<truth::Shortfall> there = truth::calc_shortfall(x.setup);
  double share = 1.0;
  for (const Eye eye : kBothEyes) {
    if (is_short(there[eye], *entry->finding.falls_short[eye])) continue;
    mark.why += fmt::format("Not as the {} eye turns. ", name_of(eye));
    share = 0.5;
  }
  return share;
}

}  // namespace redress::scoring
