// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/scoring/mend_acts.hpp"

#include <algorithm>
#include <iterator>
#include <variant>

#include <fmt/format.h>

#include "sim/scoring/items.hpp"

namespace redress::scoring {

namespace {

constexpr Tick kOpenMs = 2000;  // rubric B3
constexpr double kLineLogmar = 0.1;

bool moves_occluder(const Act& act) {
  return std::holds_alternative<act::Cover>(act.content) ||
         std::holds_alternative<act::Uncover>(act.content) ||
         std::holds_alternative<act::MoveOccluder>(act.content);
}

act::Cover make_cover(Eye eye) {
  act::Cover cover;
  cover.eye = eye;
  cover.from = Side::temporal;
  cover.travel_ms = static_cast<std::int32_t>(kMendTravelMs);
  return cover;
}

act::Uncover make_uncover() {
  return act::Uncover{Side::above, static_cast<std::int32_t>(kMendTravelMs)};
}

}  // namespace

void delay(std::vector<Act>& acts, ActIndex first, Tick by_ms) {
  for (ActIndex i = first; i < acts.size(); ++i) acts[i].at_ms += by_ms;
}

ActIndex find_from(const std::vector<Act>& acts, Tick at_ms) {
  const auto later = [at_ms](const Act& act) { return act.at_ms >= at_ms; };
  return static_cast<ActIndex>(std::find_if(acts.begin(), acts.end(), later) - acts.begin());
}

std::optional<ActIndex> find_move_before(const std::vector<Act>& acts, Tick row_ms) {
  for (ActIndex i = find_from(acts, row_ms); i-- > 0;) {
    if (moves_occluder(acts[i])) return i;
  }
  return std::nullopt;
}

void insert(std::vector<Act>& acts, ActIndex before, const std::vector<Act>& block, Tick lasts_ms) {
  delay(acts, before, lasts_ms);
  acts.insert(acts.begin() + static_cast<std::ptrdiff_t>(before), block.begin(), block.end());
}

std::string in_seconds(double ms) { return fmt::format("{:.1f} s", ms / 1000.0); }

double calc_right_size(const Place& place) {
  double worst = -0.3;
  for (const findings::CoverSpan* span : place.covers) {
    worst = std::max(worst, calc_worse_threshold(*span));
  }
  constexpr double kLargest = 1.5;
  return std::min(worst + 1.5 * kLineLogmar, kLargest);
}

std::vector<Act> cover_each_eye(Tick from_ms, Tick cover_ms, Tick open_ms, Tick& lasts_ms) {
  std::vector<Act> block;
  Tick now = from_ms;
  for (const Eye eye : {Eye::right, Eye::left, Eye::right, Eye::left}) {
    block.push_back({now, make_cover(eye)});
    now += kMendTravelMs + cover_ms;
    block.push_back({now, make_uncover()});
    now += kMendTravelMs + open_ms;
  }
  lasts_ms = now - from_ms;
  return block;
}

std::vector<Act> alternate_cover(Tick from_ms, int transfers, Tick dwell_ms, Tick& lasts_ms) {
  std::vector<Act> block;
  Tick now = from_ms;
  for (int i = 0; i <= transfers; ++i) {
    block.push_back({now, make_cover(i % 2 == 0 ? Eye::right : Eye::left)});
    now += dwell_ms;
  }
  block.push_back({now, make_uncover()});
  lasts_ms = now + kMendTravelMs - from_ms;
  return block;
}

Tick calc_wanted_cover(const Examined& x) {
  return static_cast<Tick>(calc_wanted_cover_ms(x)) + kMendHandMs;
}

// As this patient does at 6 m, at most 6 s.
Tick calc_wanted_opening(const Examined& x) {
  constexpr double kLongest = 6000.0;
  constexpr Tick kToSeeIt = 500;
  const double back = std::min(x.truth.recovery_ms.value_or(0.0), kLongest);
  return std::max(kOpenMs, static_cast<Tick>(back) + kToSeeIt) + kMendHandMs;
}

}  // namespace redress::scoring
