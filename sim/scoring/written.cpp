// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Part D of the rubric: what was written against what is there.
#include <algorithm>

#include <fmt/format.h>

#include "sim/basics/elementary.hpp"
#include "sim/scoring/cited.hpp"
#include "sim/scoring/items.hpp"
#include "sim/scoring/judged.hpp"
#include "sim/scoring/words.hpp"

namespace redress::scoring {

using elementary::magnitude;
using findings::CoverSpan;
using findings::WrittenFinding;

namespace {

constexpr Tick kSeenFixingMs = 500;  // for as long an eye fixed while its fellow was out of line

const char* class_word(int rank) {
  switch (rank) {
    case 1: return "latent";
    case 2: return "intermittent";
    case 3: return "constant";
    default: return "no movement";
  }
}

// Rank as written, or nothing; see Place::rank.
std::optional<int> written_rank(const WrittenFinding* entry) {
  if (entry == nullptr || !entry->finding.kind) return std::nullopt;
  switch (*entry->finding.kind) {
    case FindingKind::none: return 0;
    case FindingKind::phoria: return 1;
    case FindingKind::tropia: break;
  }
  return entry->finding.constancy == Constancy::intermittent ? 2 : 3;
}

const WrittenFinding* class_entry(const Place& place) {
  if (place.cover_entry != nullptr && place.cover_entry->finding.kind) return place.cover_entry;
  return place.prism_entry;
}

bool class_is_right(int written, int there) {
  // Below what is seen either word is right.
  return there == 0 ? written <= 1 : written == there;
}

struct Compared {
  double truth_pd = 0.0;
  std::optional<double> written_pd;
  bool vertical = false;
  bool by_eye = false;

  [[nodiscard]] double seen_from() const { return vertical ? kSeenVerticalPd : kSeenHorizontalPd; }
  [[nodiscard]] bool wrong_way() const {
    return written_pd && magnitude(truth_pd) >= seen_from() && *written_pd * truth_pd < 0.0;
  }
  [[nodiscard]] double share() const {
    if (!written_pd) return magnitude(truth_pd) < seen_from() ? 1.0 : 0.0;
    if (wrong_way()) return 0.0;
    const double error = magnitude(*written_pd - truth_pd);
    const double tolerance = calc_tolerance(truth_pd, vertical, by_eye);
    // Half a hundredth: 2.0 read on 4.0 is within 2.
    constexpr double kRounding = 0.005;
    if (error <= tolerance + kRounding) return 1.0;
    return error <= 2.0 * tolerance + kRounding ? 0.5 : 0.0;
  }
};

Eye fixing_of(const Place& place, const Reading& r) {
  return place.there[r.fixing].cannot_fixate ? fellow(r.fixing) : r.fixing;
}

// A prism reading is compared with the label that neutralises, an estimate with the rotation of the
// eyes. What is seen on covering a manifest deviation is its manifest part: an estimate of either
// is right.
Compared compare(const Place& place, const Reading& r, bool vertical) {
  const truth::Condition& c = place.there[fixing_of(place, r)];
  Compared k;
  k.vertical = vertical;
  k.by_eye = r.by_eye;
  k.written_pd = vertical ? r.vertical_pd : r.horizontal_pd;
  k.truth_pd = vertical ? c.vertical_pd : c.horizontal_pd;
  const auto& label = vertical ? c.neutralising_vertical_pd : c.neutralising_horizontal_pd;
  // Where nothing moves there is nothing to be seen, however the eyes stand.
  if (label && (!r.by_eye || magnitude(*label) < k.seen_from())) k.truth_pd = *label;
  if (r.manifest_only && magnitude(k.truth_pd) > 0.0) {
    const double whole = vertical ? c.vertical_pd : c.horizontal_pd;
    const double manifest = vertical ? c.manifest_vertical_pd : c.manifest_horizontal_pd;
    // The label in proportion: both are read behind the same kind of prism.
    k.truth_pd = magnitude(whole) > 0.0 ? k.truth_pd * manifest / whole : manifest;
  }
  if (place.let_go) {
    // Between what is there in the spasm and without it every size is right.
    const truth::Condition& calm = (*place.let_go)[c.fixing];
    const double other = vertical ? calm.vertical_pd : calm.horizontal_pd;
    const double low = std::min(k.truth_pd, other);
    const double high = std::max(k.truth_pd, other);
    k.truth_pd = std::clamp(k.written_pd.value_or(0.0), low, high);
  }
  if (r.by_eye && c.manifest != truth::Manifest::none) {
    Compared manifest = k;
    manifest.truth_pd = vertical ? c.manifest_vertical_pd : c.manifest_horizontal_pd;
    if (manifest.share() > k.share()) return manifest;
  }
  return k;
}

// Whichever eye is covered rises: a height that is neither eye's and that no prism neutralises.
bool is_dissociated(const Place& place) {
  constexpr double kRisesPd = 0.5;
  return place.there.right.vertical_pd <= -kRisesPd && place.there.left.vertical_pd >= kRisesPd;
}

bool counts_vertical(const Place& place, const Reading& r) {
  if (is_dissociated(place)) return false;
  return magnitude(place.there.right.vertical_pd) >= kSeenVerticalPd ||
         magnitude(r.vertical_pd.value_or(0.0)) >= kSeenVerticalPd;
}

MarkEvidence say_reading(const Place& place, const Reading& r) {
  return {
      r.entry->at_ms,
      fmt::format("{}: written {}, {}, {}", place.name, say_across(r.horizontal_pd.value_or(0.0)),
                  say_height(r.vertical_pd.value_or(0.0)), r.by_eye ? "estimated" : "measured")};
}

bool is_by_prism(const Reading& r) { return !r.by_eye && !r.manifest_only; }

// Along the way that counts: in height where that is there or was written, across unless only a
// height is there.
void cite_sizes(const Examined& x, const Place& place, const Reading& reading, Mark& mark) {
  const bool high = counts_vertical(place, reading);
  const bool across = magnitude(place.there.right.horizontal_pd) >= kSeenHorizontalPd ||
                      magnitude(reading.horizontal_pd.value_or(0.0)) >= kSeenHorizontalPd;
  if (across || !high) cite_size(x, place, is_by_prism(reading), false, mark);
  if (high) cite_size(x, place, is_by_prism(reading), true, mark);
}

enum class Direction { right, missing, reversed };

Direction direction_at(const Place& place, const std::optional<Reading>& r) {
  if (!r) return Direction::missing;
  Direction all = Direction::right;
  for (const bool vertical : {false, true}) {
    if (vertical && is_dissociated(place)) break;
    const Compared k = compare(place, *r, vertical);
    const double written = k.written_pd.value_or(0.0);
    if (magnitude(k.truth_pd) >= k.seen_from()) {
      if (k.wrong_way()) return Direction::reversed;
      if (written == 0.0) all = Direction::missing;
    } else if (magnitude(written) >= k.seen_from() && written * k.truth_pd < 0.0) {
      return Direction::reversed;
    }
  }
  return all;
}

std::optional<FindingEye> eye_word(truth::DeviatingEye eye) {
  switch (eye) {
    case truth::DeviatingEye::right: return FindingEye::right;
    case truth::DeviatingEye::left: return FindingEye::left;
    case truth::DeviatingEye::alternating: return FindingEye::alternating;
    case truth::DeviatingEye::none: break;
  }
  return std::nullopt;
}

const char* word_of(FindingEye eye) {
  switch (eye) {
    case FindingEye::right: return "right";
    case FindingEye::left: return "left";
    case FindingEye::alternating: return "alternating";
    case FindingEye::both: break;
  }
  return "both";
}

const char* say_eye(truth::DeviatingEye eye) {
  switch (eye) {
    case truth::DeviatingEye::right: return "the right eye";
    case truth::DeviatingEye::left: return "the left eye";
    case truth::DeviatingEye::alternating: return "either eye";
    case truth::DeviatingEye::none: break;
  }
  return "neither eye";
}

// Which eye deviates may differ from cover to cover: what this patient did in this examination is
// right as well.
bool eye_is_right(const Examined& x, const Place& place, FindingEye written) {
  const FindingEye word = written == FindingEye::both ? FindingEye::alternating : written;
  if (eye_word(place.there.right.deviating_eye) == word) return true;
  for (const findings::OpenDeviation& open : x.evidence.open) {
    if (!place.is_used_at(open.setting)) continue;
    const bool right_fixed = open.fixing_ms.right >= kSeenFixingMs;
    const bool left_fixed = open.fixing_ms.left >= kSeenFixingMs;
    if (right_fixed && left_fixed) return word == FindingEye::alternating;
  }
  return false;
}

// A deviation that comes and goes need not have come while the eyes were tested here: then nothing
// is what there was to be seen.
int shown_rank(const Examined& x, const Place& place) {
  if (!place.let_go) return place.rank();
  if (place.rank() <= 1) return 0;
  Tick apart_ms = 0;
  for (const findings::OpenDeviation& open : x.evidence.open) {
    if (place.is_used_at(open.setting)) apart_ms += open.fixing_ms.right + open.fixing_ms.left;
  }
  return apart_ms >= 2 * kSeenFixingMs ? place.rank() : 0;
}

}  // namespace

JudgedDeviation judge_deviation(const Examined& x, const WrittenFinding& entry) {
  const Place place = find_place_of(x, entry);
  const Finding& f = entry.finding;
  const bool by_eye = !findings::is_by_prism(f) || place.steps.empty();
  const Reading reading = read_entry(place, entry, by_eye);
  JudgedDeviation judged{place.there[fixing_of(place, reading)], 1.0};
  const auto at_most = [&judged](double share) { judged.share = std::min(judged.share, share); };
  if (const auto written = written_rank(&entry)) {
    const int there = shown_rank(x, place);
    if (!class_is_right(*written, there)) at_most(0.0);
    if (there >= 2 && f.eye && !eye_is_right(x, place, *f.eye)) at_most(0.5);
  }
  const bool sized = reading.horizontal_pd || reading.vertical_pd;
  if (!sized && f.kind) return judged;
  at_most(compare(place, reading, false).share());
  if (counts_vertical(place, reading)) at_most(compare(place, reading, true).share());
  return judged;
}

Mark mark_class(const Examined& x) {
  Mark mark;
  int right = 0;
  bool main_right = false;
  for (const Place& place : x.places) {
    const WrittenFinding* entry = class_entry(place);
    const auto written = written_rank(entry);
    if (!written) {
      mark.why += fmt::format("{}: no class written. ", place.name);
      continue;
    }
    mark.evidence.push_back(
        {entry->at_ms, fmt::format("{}: written as {}", place.name, class_word(*written))});
    cite_class(x, place, mark);
    if (!has_class_evidence(place)) {
      mark.why += fmt::format("{}: nothing done could have shown it. ", place.name);
      continue;
    }
    if (const int there = shown_rank(x, place); !class_is_right(*written, there)) {
      mark.why += fmt::format("{}: it is {}. ", place.name, class_word(there));
      continue;
    }
    ++right;
    main_right = main_right || &place == &x.places[x.main_place];
  }
  const bool all = right == static_cast<int>(x.places.size());
  mark.share = all ? 1.0 : main_right ? 0.5 : 0.0;
  if (all) mark.why = "Right at every distance.";
  return mark;
}

Mark mark_direction(const Examined& x) {
  Mark mark;
  bool all = true;
  bool main_right = false;
  bool reversed = false;
  for (const Place& place : x.places) {
    const auto reading = find_reading(place);
    const Direction d = direction_at(place, reading);
    if (reading) {
      mark.evidence.push_back(say_reading(place, *reading));
      cite_sizes(x, place, *reading, mark);
    }
    if (d == Direction::reversed) {
      reversed = true;
      mark.why += fmt::format("{}: the wrong way. ", place.name);
    } else if (d == Direction::missing) {
      mark.why +=
          fmt::format("{}: no direction written that anything done could have shown. ", place.name);
    }
    all = all && d == Direction::right;
    main_right = main_right || (d == Direction::right && &place == &x.places[x.main_place]);
  }
  mark.share = reversed ? 0.0 : all ? 1.0 : main_right ? 0.5 : 0.0;
  if (all) mark.why = "Right at every distance.";
  return mark;
}

Mark mark_size(const Examined& x) {
  Mark mark;
  double sum = 0.0;
  for (const Place& place : x.places) {
    const auto reading = find_reading(place);
    if (!reading) {
      mark.why +=
          fmt::format("{}: no size written that anything done could have shown. ", place.name);
      continue;
    }
    mark.evidence.push_back(say_reading(place, *reading));
    cite_sizes(x, place, *reading, mark);
    const Compared h = compare(place, *reading, false);
    double share = h.share();
    std::string truth = say_across(h.truth_pd);
    if (counts_vertical(place, *reading)) {
      const Compared v = compare(place, *reading, true);
      if (v.share() < share) truth = say_height(v.truth_pd);
      share = 0.5 * (share + v.share());
    }
    if (share < 1.0) {
      mark.why += fmt::format("{}: what {} is {}. ", place.name,
                              reading->by_eye ? "was there to be seen" : "neutralises", truth);
    }
    sum += share;
  }
  mark.share = sum / static_cast<double>(x.places.size());
  if (mark.share >= 1.0) mark.why = "Every reading within the tolerance.";
  return mark;
}

Mark mark_eye(const Examined& x) {
  Mark mark;
  int parts = 0;
  double right = 0.0;
  int eyes_wanted = 0;
  int eyes_right = 0;
  std::optional<bool> comitant;
  for (const WrittenFinding& entry : x.card.entries) {
    if (entry.finding.comitant) comitant = entry.finding.comitant;
  }
  for (const Place& place : x.places) {
    if (shown_rank(x, place) < 2) continue;
    ++eyes_wanted;
    const WrittenFinding* entry = class_entry(place);
    const bool here = entry != nullptr && entry->finding.eye && has_class_evidence(place) &&
                      eye_is_right(x, place, *entry->finding.eye);
    if (entry != nullptr) {
      mark.evidence.push_back(
          {entry->at_ms, fmt::format("{}: the eye written as {}", place.name,
                                     entry->finding.eye ? word_of(*entry->finding.eye) : "none")});
      cite_class(x, place, mark);
    }
    if (!here) {
      mark.why +=
          fmt::format("{}: {} deviates. ", place.name, say_eye(place.there.right.deviating_eye));
    }
    eyes_right += here ? 1 : 0;
  }
  if (eyes_wanted > 0) {
    ++parts;
    right += static_cast<double>(eyes_right) / eyes_wanted;
  }
  if (!x.truth.comitant || comitant) {
    ++parts;
    const bool shown = cite_sides(x, mark);
    const bool same = shown && comitant == x.truth.comitant;
    right += same ? 1.0 : 0.0;
    if (!shown) {
      mark.why += "Comitance: the eyes were not looked at to the sides. ";
    } else if (!same) {
      mark.why += comitant ? "Comitance is not as written. " : "Comitance was not written. ";
    }
  }
  if (parts == 0) return removed("No eye deviates, and the deviation is comitant.");
  mark.share = right / parts;
  if (mark.share >= 1.0) mark.why = "Right.";
  return mark;
}

}  // namespace redress::scoring
