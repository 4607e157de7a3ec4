// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/scoring/mends.hpp"

#include <algorithm>
#include <cstddef>
#include <iterator>
#include <utility>

#include <fmt/format.h>

#include "sim/basics/elementary.hpp"
#include "sim/examiners/prism_bar.hpp"
#include "sim/scoring/items.hpp"

namespace redress::scoring {

using elementary::magnitude;
using findings::CoverSpan;
using findings::PrismStep;

namespace {

constexpr Tick kHandMs = 150;  // more than asked for: a hand is no clock
constexpr Tick kTravelMs = 250;
constexpr Tick kOpenMs = 2000;       // rubric B3
constexpr Tick kDwellMs = 1300;      // rubric C1 asks for 1 s
constexpr int kTransfers = 4;        // behind each prism
constexpr double kReversalPd = 0.5;  // left to move the other way, so that it is seen
constexpr double kLineLogmar = 0.1;

bool moves_occluder(const Act& act) {
  return std::holds_alternative<act::Cover>(act.content) ||
         std::holds_alternative<act::Uncover>(act.content) ||
         std::holds_alternative<act::MoveOccluder>(act.content);
}

using Index = std::size_t;

/// Acts from this one on come later.
void delay(std::vector<Act>& acts, Index first, Tick by_ms) {
  for (Index i = first; i < acts.size(); ++i) acts[i].at_ms += by_ms;
}

/// The first act at this time or later.
Index find_from(const std::vector<Act>& acts, Tick at_ms) {
  const auto later = [at_ms](const Act& act) { return act.at_ms >= at_ms; };
  return static_cast<Index>(std::find_if(acts.begin(), acts.end(), later) - acts.begin());
}

/// The act with which the occluder was last moved before this row.
std::optional<Index> find_move_before(const std::vector<Act>& acts, Tick row_ms) {
  for (Index i = find_from(acts, row_ms); i-- > 0;) {
    if (moves_occluder(acts[i])) return i;
  }
  return std::nullopt;
}

/// Puts acts in before another one, which waits, with all that follow, until they are done.
void insert(std::vector<Act>& acts, Index before, const std::vector<Act>& block, Tick lasts_ms) {
  delay(acts, before, lasts_ms);
  acts.insert(acts.begin() + static_cast<std::ptrdiff_t>(before), block.begin(), block.end());
}

std::string in_seconds(double ms) { return fmt::format("{:.1f} s", ms / 1000.0); }

/// Later ones first: what is put in at a later time leaves the earlier times as they were.
template <class Span>
void sort_latest_first(std::vector<Span>& spans) {
  // Covers and steps of the places of one examination: no two begin at once.
  std::sort(spans.begin(), spans.end(),
            [](const auto* a, const auto* b) { return a->from_ms > b->from_ms; });
}

// -------------------------------------------------------------------------------------- one by one

std::optional<MendedActs> wear_correction(const Examined& x, std::span<const Act> acts) {
  if (!x.right_spectacles) return std::nullopt;
  const auto wrong = std::find_if(x.places.begin(), x.places.end(), [](const Place& p) {
    return p.attempted() && !p.used_spectacles;
  });
  if (wrong == x.places.end()) return std::nullopt;
  MendedActs mended;
  mended.acts.push_back({0, act::Spectacles{true}});
  for (const Act& act : acts) {
    if (std::holds_alternative<act::Spectacles>(act.content)) continue;
    mended.acts.push_back(act);
    auto* note = std::get_if<act::Note>(&mended.acts.back().content);
    if (note != nullptr && note->finding.spectacles) note->finding.spectacles = true;
  }
  mended.done = "Tested without the glasses";
  mended.instead = "with the glasses that are worn";
  mended.at_ms = wrong->covers.front()->from_ms;
  return mended;
}

/// One or two lines larger than the worse eye resolves.
double calc_right_size(const Place& place) {
  double worst = -0.3;
  for (const CoverSpan* span : place.covers) {
    worst = std::max({worst, span->threshold_logmar.right, span->threshold_logmar.left});
  }
  constexpr double kLargest = 1.5;
  return std::min(worst + 1.5 * kLineLogmar, kLargest);
}

std::string describe_target(const CoverSpan& span) {
  if (span.kind == TargetKind::spot) return "Spot of light";
  return fmt::format("Target of {:.1f}", span.size_logmar);
}

std::optional<MendedActs> choose_target(const Examined& x, std::span<const Act> acts) {
  MendedActs mended;
  for (const Place& place : x.places) {
    if (!place.attempted() || share_of_targets(place) >= 1.0) continue;
    if (mended.acts.empty()) {
      mended.acts.assign(acts.begin(), acts.end());
      const CoverSpan& span = *place.covers.front();
      mended.done = fmt::format("{} at {}", describe_target(span), place.name);
      mended.instead = fmt::format("letters of {:.1f}, one or two lines above the worse eye",
                                   calc_right_size(place));
      mended.at_ms = span.from_ms;
    }
    for (Act& act : mended.acts) {
      auto* shown = std::get_if<act::ShowTarget>(&act.content);
      if (shown == nullptr || !findings::is_same_distance(shown->distance_m, place.used_m)) {
        continue;
      }
      shown->kind = TargetKind::letters;
      shown->size_logmar = calc_right_size(place);
    }
  }
  if (mended.acts.empty()) return std::nullopt;
  return mended;
}

/// Each eye by itself, twice, and open for long enough after each.
std::vector<Act> cover_each_eye(Tick from_ms, Tick cover_ms, Tick open_ms, Tick& lasts_ms) {
  std::vector<Act> block;
  Tick now = from_ms;
  for (const Eye eye : {Eye::right, Eye::left, Eye::right, Eye::left}) {
    act::Cover cover;
    cover.eye = eye;
    cover.from = Side::temporal;
    cover.travel_ms = static_cast<std::int32_t>(kTravelMs);
    block.push_back({now, cover});
    now += kTravelMs + cover_ms;
    block.push_back({now, act::Uncover{Side::above, static_cast<std::int32_t>(kTravelMs)}});
    now += kTravelMs + open_ms;
  }
  lasts_ms = now - from_ms;
  return block;
}

Tick calc_wanted_cover(const Examined& x) {
  return static_cast<Tick>(calc_wanted_cover_ms(x)) + kHandMs;
}

/// How long the eyes are left open so that they come back: as this patient does at 6 m, at most 6
/// s.
Tick calc_wanted_opening(const Examined& x) {
  constexpr double kLongest = 6000.0;
  constexpr Tick kToSeeIt = 500;
  const double back = std::min(x.truth.recovery_ms.value_or(0.0), kLongest);
  return std::max(kOpenMs, static_cast<Tick>(back) + kToSeeIt) + kHandMs;
}

bool alternated_first(const Place& place) {
  PerEye<bool> alone;
  for (const CoverSpan* span : unilateral_covers(place, true)) {
    if (span->before_alternating) alone[span->eye] = true;
  }
  return !(alone.right && alone.left);
}

std::optional<MendedActs> cover_one_eye_first(const Examined& x, std::span<const Act> acts) {
  std::vector<const CoverSpan*> firsts;
  std::string where;
  for (const Place& place : x.places) {
    if (!place.attempted() || !alternated_first(place)) continue;
    firsts.push_back(place.covers.front());
    where += (where.empty() ? "" : ", ") + place.name;
  }
  if (firsts.empty()) return std::nullopt;
  sort_latest_first(firsts);
  MendedActs mended;
  mended.acts.assign(acts.begin(), acts.end());
  for (const CoverSpan* first : firsts) {
    const auto move = find_move_before(mended.acts, first->from_ms);
    if (!move) continue;
    Tick lasts_ms = 0;
    const auto block = cover_each_eye(mended.acts[*move].at_ms, calc_wanted_cover(x),
                                      calc_wanted_opening(x), lasts_ms);
    insert(mended.acts, *move, block, lasts_ms);
  }
  mended.done = "Alternating before each eye alone";
  mended.instead = "each eye twice by itself first, " + where;
  mended.at_ms = firsts.back()->from_ms;
  return mended;
}

std::optional<MendedActs> cover_for_longer(const Examined& x, std::span<const Act> acts) {
  const double wanted = calc_wanted_cover_ms(x);
  std::vector<const CoverSpan*> shorts;
  Tick shortest = 0;
  for (const Place& place : x.places) {
    for (const CoverSpan* span : unilateral_covers(place, true)) {
      if (static_cast<double>(span->duration_ms()) >= wanted) continue;
      shortest = shorts.empty() ? span->duration_ms() : std::min(shortest, span->duration_ms());
      shorts.push_back(span);
    }
  }
  if (shorts.empty()) return std::nullopt;
  sort_latest_first(shorts);
  MendedActs mended;
  mended.acts.assign(acts.begin(), acts.end());
  for (const CoverSpan* span : shorts) {
    const auto move = find_move_before(mended.acts, span->to_ms);
    if (move) delay(mended.acts, *move, calc_wanted_cover(x) - span->duration_ms());
  }
  mended.done = "Covers of " + in_seconds(static_cast<double>(shortest));
  mended.instead = fmt::format("held for {}, what this patient needs", in_seconds(wanted));
  mended.at_ms = shorts.back()->from_ms;
  return mended;
}

std::optional<MendedActs> open_for_longer(const Examined& x, std::span<const Act> acts) {
  std::vector<const CoverSpan*> shorts;
  Tick shortest = 0;
  for (const Place& place : x.places) {
    const bool can_fuse = place.there.right.manifest == truth::Manifest::none;
    for (const CoverSpan* span : unilateral_covers(place, true)) {
      const bool last = span->to_ms + span->open_after_ms >= x.evidence.end_ms;
      const bool back = span->fused_before_next || !can_fuse;
      if (last || (span->open_after_ms >= kOpenMs && back)) continue;
      if (span->open_after_ms >= calc_wanted_opening(x)) continue;
      shortest = shorts.empty() ? span->open_after_ms : std::min(shortest, span->open_after_ms);
      shorts.push_back(span);
    }
  }
  if (shorts.empty()) return std::nullopt;
  sort_latest_first(shorts);
  MendedActs mended;
  mended.acts.assign(acts.begin(), acts.end());
  for (const CoverSpan* span : shorts) {
    delay(mended.acts, find_from(mended.acts, span->to_ms),
          calc_wanted_opening(x) - span->open_after_ms);
  }
  mended.done =
      fmt::format("Only {} open between covers", in_seconds(static_cast<double>(shortest)));
  mended.instead = fmt::format("open for {}, so that they come back",
                               in_seconds(static_cast<double>(calc_wanted_opening(x))));
  mended.at_ms = shorts.back()->to_ms;
  return mended;
}

// ------------------------------------------------------------------------------------ the bracket

/// The prism that stood alone before an eye through a step, if it was one prism.
std::optional<act::HoldPrism> find_held(const std::vector<Act>& acts, const PrismStep& step) {
  if (step.before.right == step.before.left) return std::nullopt;
  const Eye eye = step.before.right ? Eye::right : Eye::left;
  std::optional<act::HoldPrism> held;
  for (const Act& act : acts) {
    if (act.at_ms > step.from_ms) break;
    const auto* hold = std::get_if<act::HoldPrism>(&act.content);
    if (hold != nullptr && hold->eye == eye && hold->slot == 1) held = *hold;
  }
  return held;
}

struct Bracket {
  const PrismStep* largest = nullptr;  ///< step with the largest label that did not reverse
  double label_pd = 0.0;
  double left_pd = 0.0;  ///< to move behind it, + as without a prism
  bool vertical = false;
};

/// Nothing where a reversal was seen, or nothing was measured with one prism.
std::optional<Bracket> find_open_bracket(const Place& place) {
  const truth::Condition& there = place.there.right;
  Bracket b;
  b.vertical = magnitude(there.horizontal_pd) < kSeenHorizontalPd ||
               magnitude(there.vertical_pd) > magnitude(there.horizontal_pd);
  const double sign = (b.vertical ? there.vertical_pd : there.horizontal_pd) < 0.0 ? -1.0 : 1.0;
  for (const PrismStep* step : measuring_steps(place)) {
    const double label = sign * (b.vertical ? step->vertical_pd : step->horizontal_pd);
    const double left =
        sign * (b.vertical ? step->residual_vertical_pd : step->residual_horizontal_pd);
    if (label <= 0.0) continue;
    if (left < -kReversalPd) return std::nullopt;
    if (label > b.label_pd) {
      b.largest = step;
      b.label_pd = label;
      b.left_pd = left;
    }
  }
  if (b.largest == nullptr) return std::nullopt;
  return b;
}

/// The bar's next labels, up to the first that reverses what is left.
std::vector<double> find_next_labels(const Bracket& b) {
  std::vector<double> labels;
  const auto go_on = [&](const auto& bar) {
    for (const double label : bar) {
      if (label <= b.label_pd + 0.5) continue;
      labels.push_back(label);
      if (b.left_pd - (label - b.label_pd) < -kReversalPd) return;
    }
  };
  if (b.vertical) {
    go_on(examiners::kVerticalBar);
  } else {
    go_on(examiners::kHorizontalBar);
  }
  return labels;
}

std::vector<Act> alternate_behind(const act::HoldPrism& held, const std::vector<double>& labels,
                                  Tick from_ms, Tick& lasts_ms) {
  std::vector<Act> block;
  Tick now = from_ms;
  for (const double label : labels) {
    act::HoldPrism hold = held;
    hold.power = PrismDioptres{label};
    block.push_back({now, hold});
    now += kTravelMs;
    for (int i = 0; i <= kTransfers; ++i) {
      act::Cover cover;
      cover.eye = i % 2 == 0 ? Eye::right : Eye::left;
      cover.from = Side::temporal;
      cover.travel_ms = static_cast<std::int32_t>(kTravelMs);
      block.push_back({now, cover});
      now += kDwellMs;
    }
  }
  block.push_back({now, act::Uncover{Side::above, static_cast<std::int32_t>(kTravelMs)}});
  lasts_ms = now + kTravelMs - from_ms;
  return block;
}

std::optional<MendedActs> go_on_to_reversal(const Examined& x, std::span<const Act> acts) {
  MendedActs mended;
  std::vector<std::pair<Bracket, const Place*>> open;
  for (const Place& place : x.places) {
    if (!place.is_seen()) continue;
    if (const auto b = find_open_bracket(place)) open.emplace_back(*b, &place);
  }
  // No two steps begin at once.
  std::sort(open.begin(), open.end(), [](const auto& a, const auto& b) {
    return a.first.largest->from_ms > b.first.largest->from_ms;
  });
  for (const auto& [bracket, place] : open) {
    if (mended.acts.empty()) mended.acts.assign(acts.begin(), acts.end());
    const auto held = find_held(mended.acts, *bracket.largest);
    const auto labels = find_next_labels(bracket);
    if (!held || labels.empty()) continue;
    // Before the prism is changed or put away; the act that does it is the last of the step.
    Index before = find_from(mended.acts, bracket.largest->to_ms);
    const auto changes = [](const Act& act) {
      return std::holds_alternative<act::HoldPrism>(act.content) ||
             std::holds_alternative<act::RemovePrism>(act.content);
    };
    if (before > 0 && mended.acts[before - 1].at_ms >= bracket.largest->to_ms - 1 &&
        changes(mended.acts[before - 1])) {
      --before;
    }
    const Tick from = before < mended.acts.size() ? mended.acts[before].at_ms : x.evidence.end_ms;
    Tick lasts_ms = 0;
    const auto block = alternate_behind(*held, labels, from, lasts_ms);
    insert(mended.acts, before, block, lasts_ms);
    mended.done = fmt::format("No reversal at {}", place->name);
    mended.instead = fmt::format("on to {:.0f}Δ, where the eyes move the other way", labels.back());
    mended.at_ms = bracket.largest->from_ms;
  }
  if (mended.done.empty()) return std::nullopt;
  return mended;
}

}  // namespace

std::optional<MendedActs> mend(Habit habit, const Examined& x, std::span<const Act> acts,
                               Tick until_ms) {
  std::optional<MendedActs> mended;
  switch (habit) {
    case Habit::wrong_correction: mended = wear_correction(x, acts); break;
    case Habit::poor_target: mended = choose_target(x, acts); break;
    case Habit::alternated_first: mended = cover_one_eye_first(x, acts); break;
    case Habit::short_covers: mended = cover_for_longer(x, acts); break;
    case Habit::short_openings: mended = open_for_longer(x, acts); break;
    case Habit::not_reversed: mended = go_on_to_reversal(x, acts); break;
  }
  if (!mended) return std::nullopt;
  const Tick last = acts.empty() ? 0 : acts.back().at_ms;
  const Tick last_mended = mended->acts.empty() ? 0 : mended->acts.back().at_ms;
  mended->until_ms = until_ms + std::max(Tick{0}, last_mended - last);
  return mended;
}

}  // namespace redress::scoring
