// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/scoring/mends.hpp"

#include <algorithm>
#include <utility>
#include <variant>

#include <fmt/format.h>

#include "sim/findings/shorthand.hpp"
#include "sim/scoring/items.hpp"
#include "sim/scoring/mend_acts.hpp"

namespace redress::scoring {

using findings::CoverSpan;

namespace {

constexpr Tick kOpenMs = 2000;  // rubric B3

/// Later ones first: what is put in at a later time leaves the earlier times as they were.
template <class Span>
void sort_latest_first(std::vector<Span>& spans) {
  // Covers and steps of the places of one examination: no two begin at once.
  std::sort(spans.begin(), spans.end(),
            [](const auto* a, const auto* b) { return a->from_ms > b->from_ms; });
}

// -------------------------------------------------------------------------------------- one by one

std::optional<MendedActs> wear_correction(const Examined& x, std::span<const Act> acts) {
  const auto wrong = std::find_if(x.places.begin(), x.places.end(), [](const Place& p) {
    return p.attempted() && !p.right_correction && p.used_spectacles != p.right_spectacles;
  });
  if (wrong == x.places.end()) return std::nullopt;
  // On or off with each distance; what was written of it holds for what is worn then.
  MendedActs mended;
  const auto wanted = [&](double distance_m) {
    const auto place = std::find_if(x.places.begin(), x.places.end(), [&](const Place& p) {
      return distance_m >= p.low_m && distance_m <= p.high_m;
    });
    return place == x.places.end() ? x.places.front().right_spectacles : place->right_spectacles;
  };
  bool worn = wanted(first_target(acts).distance_m);
  mended.acts.push_back({0, act::Spectacles{worn}});
  for (const Act& act : acts) {
    if (std::holds_alternative<act::Spectacles>(act.content)) continue;
    mended.acts.push_back(act);
    auto* note = std::get_if<act::Note>(&mended.acts.back().content);
    if (note != nullptr && note->finding.spectacles) {
      note->finding.spectacles = wanted(note->finding.distance_m.value_or(6.0));
    }
    const auto* shown = std::get_if<act::ShowTarget>(&act.content);
    if (shown == nullptr || wanted(shown->distance_m) == worn) continue;
    worn = !worn;
    mended.acts.push_back({act.at_ms, act::Spectacles{worn}});
  }
  mended.done = wrong->right_spectacles ? "Tested without the glasses" : "Tested with the glasses";
  mended.instead = wrong->right_spectacles ? "with the glasses that are for this"
                                           : "without them, which are for another distance";
  mended.at_ms = wrong->covers.front()->from_ms;
  return mended;
}

std::string describe_target(const CoverSpan& span) {
  if (span.kind == TargetKind::spot) return "Spot of light";
  return fmt::format("Letters {:.1f} logMAR", span.size_logmar);
}

std::optional<MendedActs> choose_target(const Examined& x, std::span<const Act> acts) {
  MendedActs mended;
  for (const Place& place : x.places) {
    if (!place.attempted() || share_of_targets(x, place) >= 1.0) continue;
    if (mended.acts.empty()) {
      mended.acts.assign(acts.begin(), acts.end());
      const CoverSpan& span = *place.covers.front();
      mended.done = fmt::format("{} at {}", describe_target(span), place.name);
      mended.instead = fmt::format("letters of {:.1f} logMAR, a line or two above the worse eye",
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

/// Covers of one eye by itself that are too short in some way.
struct Shorts {
  std::vector<const CoverSpan*> spans;  ///< later ones first
  Tick shortest_ms = 0;                 ///< of what is too short
};

/// `length` of a cover, `is_short` of it at a place.
template <class Length, class IsShort>
Shorts find_shorts(const Examined& x, const Length& length, const IsShort& is_short) {
  Shorts shorts;
  for (const Place& place : x.places) {
    for (const CoverSpan* span : unilateral_covers(place, true)) {
      if (!is_short(place, *span)) continue;
      const Tick ms = length(*span);
      shorts.shortest_ms = shorts.spans.empty() ? ms : std::min(shorts.shortest_ms, ms);
      shorts.spans.push_back(span);
    }
  }
  sort_latest_first(shorts.spans);
  return shorts;
}

std::optional<MendedActs> cover_for_longer(const Examined& x, std::span<const Act> acts) {
  const double wanted = calc_wanted_cover_ms(x);
  const auto length = [](const CoverSpan& span) { return span.duration_ms(); };
  const Shorts shorts = find_shorts(x, length, [&](const Place&, const CoverSpan& span) {
    return static_cast<double>(length(span)) < wanted;
  });
  if (shorts.spans.empty()) return std::nullopt;
  MendedActs mended;
  mended.acts.assign(acts.begin(), acts.end());
  for (const CoverSpan* span : shorts.spans) {
    const auto move = find_move_before(mended.acts, span->to_ms);
    if (move) delay(mended.acts, *move, calc_wanted_cover(x) - length(*span));
  }
  mended.done = "Covers of " + in_seconds(static_cast<double>(shorts.shortest_ms));
  mended.instead = fmt::format("held for {}, what this patient needs", in_seconds(wanted));
  mended.at_ms = shorts.spans.back()->from_ms;
  return mended;
}

std::optional<MendedActs> open_for_longer(const Examined& x, std::span<const Act> acts) {
  const Tick wanted = calc_wanted_opening(x);
  const auto length = [](const CoverSpan& span) { return span.open_after_ms; };
  const Shorts shorts = find_shorts(x, length, [&](const Place& place, const CoverSpan& span) {
    const bool can_fuse = place.there.right.manifest == truth::Manifest::none;
    const bool last = span.to_ms + length(span) >= x.evidence.end_ms;
    const bool back = span.fused_before_next || !can_fuse;
    if (last || (length(span) >= kOpenMs && back)) return false;
    return length(span) < wanted;
  });
  if (shorts.spans.empty()) return std::nullopt;
  MendedActs mended;
  mended.acts.assign(acts.begin(), acts.end());
  for (const CoverSpan* span : shorts.spans) {
    delay(mended.acts, find_from(mended.acts, span->to_ms), wanted - length(*span));
  }
  mended.done = fmt::format("Only {} open between covers",
                            in_seconds(static_cast<double>(shorts.shortest_ms)));
  mended.instead =
      fmt::format("open for {}, so that they come back", in_seconds(static_cast<double>(wanted)));
  mended.at_ms = shorts.spans.back()->to_ms;
  return mended;
}

// A patient that holds its head askew is tested with it straight as well: before the first cover,
// and whenever it was let go again.
std::optional<MendedActs> straighten_head(const Examined& x, std::span<const Act> acts) {
  constexpr std::int32_t kStraightenMs = 600;
  constexpr Tick kSettledMs = 3000;
  const auto askew =
      std::find_if(x.places.begin(), x.places.end(), [](const Place& p) { return p.own_posture; });
  if (askew == x.places.end()) return std::nullopt;
  MendedActs mended;
  for (const Act& act : acts) {
    const auto* told = std::get_if<act::Instruct>(&act.content);
    if (told == nullptr || told->what != Instruction::relax) mended.acts.push_back(act);
  }
  const Tick first_ms = askew->covers.front()->from_ms;
  const auto move = find_move_before(mended.acts, first_ms);
  if (!move) return std::nullopt;
  const Tick at_ms = mended.acts[*move].at_ms;
  insert(mended.acts, *move, {{at_ms, act::TiltHead{0, 0, 0, kStraightenMs}}}, kSettledMs);
  mended.done = "Head left as the patient holds it";
  mended.instead = "straightened before the covers";
  mended.at_ms = first_ms;
  return mended;
}

/// What the hand with the occluder does after this act: else what was a cover would become a part
/// of an alternating one.
bool is_taken_away_next(const std::vector<Act>& acts, ActIndex move) {
  for (ActIndex i = move + 1; i < acts.size(); ++i) {
    if (std::holds_alternative<act::Uncover>(acts[i].content)) return true;
    if (std::holds_alternative<act::Cover>(acts[i].content) ||
        std::holds_alternative<act::MoveOccluder>(acts[i].content)) {
      return false;
    }
  }
  return false;
}

// An occluder held so that the eye sees past its edge: the same hand, on the line of sight.
std::optional<MendedActs> cover_without_gap(const Examined& x, std::span<const Act> acts) {
  if (x.evidence.peeks.empty()) return std::nullopt;
  MendedActs mended;
  mended.acts.assign(acts.begin(), acts.end());
  for (const findings::Peek& peek : x.evidence.peeks) {
    const auto move = find_move_before(mended.acts, peek.from_ms);
    if (!move) continue;
    const auto* hand = std::get_if<act::MoveOccluder>(&mended.acts[*move].content);
    if (hand == nullptr || !is_taken_away_next(mended.acts, *move)) continue;
    act::Cover cover;
    cover.eye = peek.eye;
    cover.travel_ms = hand->travel_ms;
    mended.acts[*move].content = cover;
    if (!mended.done.empty()) continue;
    mended.done = fmt::format("The {} eye saw past the edge", name_of(peek.eye));
    mended.instead = "covered in full";
    mended.at_ms = peek.from_ms;
  }
  if (mended.done.empty()) return std::nullopt;
  return mended;
}

/// Before whatever was written after the last cover.
ActIndex find_writing(const std::vector<Act>& acts, Tick after_ms) {
  ActIndex i = find_from(acts, after_ms);
  while (i < acts.size() && !std::holds_alternative<act::Note>(acts[i].content)) ++i;
  return i;
}

/// By which plus lens near is clear with half of the accommodation kept in reserve (common
/// practice); 0 for whoever has enough. To a quarter of a dioptre.
double calc_missing_add(const Examined& x, double near_m) {
  const double missing = 1.0 / near_m - x.setup.patient.accommodation.amplitude_d;
  if (missing <= 0.0) return 0.0;
  const double add = 1.0 / near_m - 0.5 * x.setup.patient.accommodation.amplitude_d;
  return 0.25 * static_cast<double>(static_cast<int>(4.0 * add + 0.5));
}

// The near test added after the last cover: cover-uncover, then alternating, and a note of what is
// seen, which the same writer fills in (sim/scoring/sightings.hpp).
std::optional<MendedActs> test_near_too(const Examined& x, std::span<const Act> acts) {
  const Place& near = x.places[1];
  const auto tested =
      std::find_if(x.places.begin(), x.places.end(), [](const Place& p) { return p.attempted(); });
  if (near.attempted() || tested == x.places.end()) return std::nullopt;
  constexpr Tick kTurnToTargetMs = 2500;
  constexpr int kTransfers = 8;
  constexpr Tick kDwellMs = 1300;
  MendedActs mended;
  mended.acts.assign(acts.begin(), acts.end());
  const ActIndex before = find_writing(mended.acts, x.evidence.covers.back().to_ms);
  const Tick from = before < mended.acts.size() ? mended.acts[before].at_ms : x.evidence.end_ms;
  std::vector<Act> block;
  act::ShowTarget target;
  target.distance_m = near.nominal_m;
  target.size_logmar = calc_right_size(*tested);
  block.push_back({from, target});
  block.push_back({from, act::Instruct{Instruction::look}});
  Tick covers_ms = 0;
  Tick alternating_ms = 0;
  const auto join = [&](const std::vector<Act>& more) {
    block.insert(block.end(), more.begin(), more.end());
  };
  // What makes near clear to this patient: glasses that are for it, or none, or trial lenses.
  const bool spectacles = near.right_spectacles;
  const bool changes = spectacles != tested->used_spectacles;
  const double add_d = spectacles ? 0.0 : calc_missing_add(x, near.nominal_m);
  if (changes) block.push_back({from, act::Spectacles{spectacles}});
  if (add_d > 0.0) block.push_back({from, act::TrialLenses{{add_d, add_d}}});
  Tick now = from + kTurnToTargetMs;
  join(cover_each_eye(now, calc_wanted_cover(x), calc_wanted_opening(x), covers_ms));
  now += covers_ms;
  join(alternate_cover(now, kTransfers, kDwellMs, alternating_ms));
  now += alternating_ms + kOpenMs;
  Finding seen;
  seen.test = FindingTest::cover_test;
  seen.distance_m = near.nominal_m;
  seen.spectacles = spectacles;
  seen.kind = FindingKind::none;
  seen.horizontal_pd = 0.0;
  seen.vertical_pd = 0.0;
  seen.method = SizeMethod::estimated;
  block.push_back({now, act::Note{seen}});
  if (changes) block.push_back({now, act::Spectacles{tested->used_spectacles}});
  if (add_d > 0.0) block.push_back({now, act::TrialLenses{}});
  insert(mended.acts, before, block, now + 1 - from);
  mended.done = "Nothing tested at near";
  mended.instead = fmt::format("covered at {} as well", findings::write_distance(near.nominal_m));
  mended.at_ms = from;
  return mended;
}

}  // namespace

std::optional<MendedActs> mend(Habit habit, const Examined& x, std::span<const Act> acts,
                               Tick until_ms) {
  std::optional<MendedActs> mended;
  switch (habit) {
    case Habit::head_askew: mended = straighten_head(x, acts); break;
    case Habit::wrong_correction: mended = wear_correction(x, acts); break;
    case Habit::poor_target: mended = choose_target(x, acts); break;
    case Habit::head_in_the_way: mended = keep_head_low(x, acts); break;
    case Habit::alternated_first: mended = cover_one_eye_first(x, acts); break;
    case Habit::peeking: mended = cover_without_gap(x, acts); break;
    case Habit::short_covers: mended = cover_for_longer(x, acts); break;
    case Habit::short_openings: mended = open_for_longer(x, acts); break;
    case Habit::prism_before_fixing: mended = hold_before_other_eye(x, acts); break;
    case Habit::not_reversed: mended = go_on_to_reversal(x, acts); break;
    case Habit::near_untested: mended = test_near_too(x, acts); break;
  }
  if (!mended) return std::nullopt;
  const Tick last = acts.empty() ? 0 : acts.back().at_ms;
  const Tick last_mended = mended->acts.empty() ? 0 : mended->acts.back().at_ms;
  mended->until_ms = until_ms + std::max(Tick{0}, last_mended - last);
  return mended;
}

}  // namespace redress::scoring
