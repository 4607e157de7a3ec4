// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Mends of what was done with prisms.
#include <algorithm>
#include <utility>
#include <variant>

#include <fmt/format.h>

#include "sim/basics/elementary.hpp"
#include "sim/examiners/prism_bar.hpp"
#include "sim/scoring/items.hpp"
#include "sim/scoring/mend_acts.hpp"

namespace redress::scoring {

using elementary::magnitude;
using findings::PrismStep;

namespace {

constexpr Tick kDwellMs = 1300;      // rubric C1 asks for 1 s
constexpr int kTransfers = 4;        // behind each prism
constexpr double kReversalPd = 0.5;  // left to move the other way, so that it is seen

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
    now += kMendTravelMs;
    for (int i = 0; i <= kTransfers; ++i) {
      act::Cover cover;
      cover.eye = i % 2 == 0 ? Eye::right : Eye::left;
      cover.from = Side::temporal;
      cover.travel_ms = static_cast<std::int32_t>(kMendTravelMs);
      block.push_back({now, cover});
      now += kDwellMs;
    }
  }
  block.push_back({now, act::Uncover{Side::above, static_cast<std::int32_t>(kMendTravelMs)}});
  lasts_ms = now + kMendTravelMs - from_ms;
  return block;
}

}  // namespace

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
    ActIndex before = find_from(mended.acts, bracket.largest->to_ms);
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

namespace {

/// Before which eye the prism belongs: where it matters as it is marked, else the one that
/// deviates, as it is taught.
std::optional<Eye> find_usual_eye(const Examined& x, const Place& place) {
  if (!x.truth.comitant) return find_prism_eye(x, place, false);
  switch (place.there.right.deviating_eye) {
    case truth::DeviatingEye::right: return Eye::right;
    case truth::DeviatingEye::left: return Eye::left;
    default: return std::nullopt;
  }
}

/// The first step at a place with a prism before the eye that does not deviate; null: none.
const PrismStep* find_before_fixing_eye(const Examined& x, const Place& place) {
  const auto deviates = find_usual_eye(x, place);
  // Where one eye fixes nothing the prism is read by the reflexes, before the eye that sees.
  const bool either_fixes = !place.there.right.cannot_fixate && !place.there.left.cannot_fixate;
  if (!deviates || !either_fixes) return nullptr;
  for (const PrismStep* step : measuring_steps(place)) {
    if (step->before[fellow(*deviates)] && !step->before[*deviates]) return step;
  }
  return nullptr;
}

// The same prism before the other eye neutralises the same with its base the other way (ISO 8429:
// base out is 180 for the right eye and 0 for the left, base down before one is base up before the
// other).
void change_eye(Eye& eye, Degrees* base) {
  eye = fellow(eye);
  if (base == nullptr) return;
  base->value += base->value >= 180.0 ? -180.0 : 180.0;
}

}  // namespace

std::optional<MendedActs> hold_before_other_eye(const Examined& x, std::span<const Act> acts) {
  MendedActs mended;
  for (const Place& place : x.places) {
    const PrismStep* first = find_before_fixing_eye(x, place);
    if (first == nullptr) continue;
    const Eye wrong = first->before.right ? Eye::right : Eye::left;
    Tick until = first->to_ms;
    for (const PrismStep* step : measuring_steps(place)) until = std::max(until, step->to_ms);
    if (mended.acts.empty()) {
      mended.acts.assign(acts.begin(), acts.end());
      const bool comitant = x.truth.comitant;
      mended.done =
          fmt::format("Prism before the {} eye{}", name_of(wrong), comitant ? ", which fixes" : "");
      mended.instead = fmt::format("before the {} eye, {}", name_of(fellow(wrong)),
                                   comitant ? "which deviates" : "so that the sound one fixes");
      mended.at_ms = first->from_ms;
    }
    // What was split between both eyes stays so, the other way round.
    for (Act& act : mended.acts) {
      if (act.at_ms < first->from_ms || act.at_ms > until) continue;
      if (auto* hold = std::get_if<act::HoldPrism>(&act.content)) {
        change_eye(hold->eye, &hold->base);
      } else if (auto* gone = std::get_if<act::RemovePrism>(&act.content)) {
        change_eye(gone->eye, nullptr);
      }
    }
  }
  if (mended.acts.empty()) return std::nullopt;
  return mended;
}

}  // namespace redress::scoring
