// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/scoring/positions.hpp"

#include <algorithm>
#include <array>
#include <span>

#include <fmt/format.h>

#include "sim/basics/elementary.hpp"
#include "sim/scoring/called_for.hpp"
#include "sim/scoring/words.hpp"
#include "sim/truth/procedures.hpp"

namespace redress::scoring {

using elementary::magnitude;
using findings::CoverSpan;
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

/// Entries of positions that were tested: how many, and how many of them right.
struct Positions {
  int written = 0;
  int right = 0;
};
Positions count_positions(const Examined& x, bool tilts, Mark& mark) {
  Positions count;
  for (const WrittenFinding& entry : x.card.entries) {
    const Finding& f = entry.finding;
    if (f.test != FindingTest::gaze || !has_further_evidence(x, f)) continue;
    if ((magnitude(f.head_roll_deg.value_or(0.0)) >= kLeastTiltDeg) != tilts) continue;
    ++count.written;
    const bool right = position_is_right(x, f);
    count.right += right ? 1 : 0;
    if (!right) {
      mark.evidence.push_back({entry.at_ms, "a size in this position that is not there"});
    }
  }
  return count;
}

double share_of_positions(const Examined& x, std::span<const std::array<double, 3>> wanted,
                          bool tilts, const char* what, Mark& mark) {
  int done = 0;
  for (const auto& [horizontal, vertical, roll] : wanted) {
    const CoverSpan* span = find_transfer(x.evidence, horizontal, vertical, roll);
    if (span == nullptr) continue;
    ++done;
    mark.evidence.push_back(
        {span->from_ms, fmt::format("{}: {}", what,
                                    tilts ? say_tilt(span->setting.roll_deg)
                                          : say_gaze(span->setting.gaze_horizontal_deg,
                                                     span->setting.gaze_vertical_deg))});
  }
  const double share = static_cast<double>(done) / static_cast<double>(wanted.size());
  if (share < 1.0) mark.why += fmt::format("{}: {} of {} tested. ", what, done, wanted.size());
  const Positions count = count_positions(x, tilts, mark);
  // Half of the sizes at least; by eye the largest and the smallest are hard to tell.
  const bool right = count.written > 0 && 2 * count.right >= count.written;
  if (done > 0 && !right) mark.why += fmt::format("{}: not written as it is there. ", what);
  return share * (right ? 1.0 : 0.5);
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
  return share_of_positions(x, kSides, false, "Gaze", mark);
}

double share_of_tilts(const Examined& x, Mark& mark) {
  constexpr std::array<std::array<double, 3>, 2> kTilts{{{0, 0, 30}, {0, 0, -30}}};
  return share_of_positions(x, kTilts, true, "Head tilt", mark);
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
