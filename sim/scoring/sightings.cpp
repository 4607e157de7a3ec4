// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/scoring/sightings.hpp"

#include <algorithm>
#include <cstdint>

#include <fmt/format.h>

#include "sim/basics/elementary.hpp"
#include "sim/scoring/rubric.hpp"
#include "sim/scoring/words.hpp"

namespace redress::scoring {

using elementary::magnitude;
using findings::CoverSpan;
using findings::Movement;
using findings::PrismStep;
using findings::WrittenFinding;

namespace {

// What begins later is no answer to the cover: another target, a blink (judgement; eyes answer
// within 0.2 to 0.6 s).
constexpr Tick kLongestLatencyMs = 1000;
constexpr Tick kTakesUpWithinMs = 600;  // children and poor eyes take half a second (setup.cpp)

constexpr Tick kTogetherMs = 120;
constexpr double kSameSizeShare =
    0.6;  // judgement: more than the fellow of a recovering eye twitches

/// What happened to the covers, as those movements are told apart that answer it.
enum class Event : std::uint8_t { other_covered, crossed_over, freed };

/// The answers of one eye to one kind of event, none where it did not move.
struct Group {
  Event event = Event::other_covered;
  Eye eye = Eye::right;
  std::vector<const Movement*> answers;

  /// The middle one by size along a way, the smaller of two: no glance elsewhere decides.
  template <class Way>
  [[nodiscard]] const Movement* typical(const Way& way) const {
    std::vector<const Movement*> sorted = answers;
    // Equal ones are alike.
    std::stable_sort(sorted.begin(), sorted.end(), [&](const Movement* a, const Movement* b) {
      return (a ? magnitude(way(*a)) : 0.0) < (b ? magnitude(way(*b)) : 0.0);
    });
    return sorted.empty() ? nullptr : sorted[(sorted.size() - 1) / 2];
  }
};

double across(const Movement& m) { return m.shown_horizontal_pd(); }
double in_height(const Movement& m) { return m.shown_vertical_pd(); }

bool is_seen(const Movement& m) {
  return magnitude(across(m)) >= kSeenHorizontalPd || magnitude(in_height(m)) >= kSeenVerticalPd;
}

/// The larger of the movements of this eye that answer an event at this time. The covers of a slow
/// transfer change twice.
const Movement* find_answer(const Examined& x, Eye eye, Tick event_ms, Tick before_ms) {
  const Movement* found = nullptr;
  const auto size = [](const Movement& m) {
    return elementary::hypotenuse(across(m), in_height(m));
  };
  for (const Movement& m : x.evidence.movements) {
    if (m.eye != eye || m.under_cover || m.cause == findings::Cause::other) continue;
    if (m.event_ms < event_ms - before_ms || m.event_ms > event_ms + findings::kSameEventMs) {
      continue;
    }
    if (m.latency_ms() > kLongestLatencyMs) continue;
    if (found == nullptr || size(m) > size(*found)) found = &m;
  }
  return found;
}

bool is_as_large(const Movement& a, const Movement& b) {
  const double most = elementary::hypotenuse(across(a), in_height(a));
  return elementary::hypotenuse(across(b), in_height(b)) >= kSameSizeShare * most;
}

// Both eyes at once, the same way and as far: no recovery, which is the freed eye's alone.
bool is_of_both_eyes(const Examined& x, const Movement& m) {
  return std::any_of(
      x.evidence.movements.begin(), x.evidence.movements.end(), [&](const Movement& other) {
        const Tick apart = other.start_ms - m.start_ms;
        // Each as its own eye shows it: the same way in space has opposite signs.
        const bool same_way = across(other) * across(m) + in_height(other) * in_height(m) < 0.0;
        return other.eye != m.eye && apart <= kTogetherMs && apart >= -kTogetherMs && same_way &&
               is_as_large(m, other);
      });
}

// What a freed eye did. Where both moved it takes fixation back from its fellow, which had then
// taken it up as far when the cover came; else the patient looked elsewhere, or back.
const Movement* find_freed(const Examined& x, const CoverSpan& span, const Movement* taken_up) {
  const Movement* freed = find_answer(x, span.eye, span.to_ms, findings::kSameEventMs);
  if (freed == nullptr || !is_of_both_eyes(x, *freed)) return freed;
  return taken_up != nullptr && is_as_large(*freed, *taken_up) ? freed : nullptr;
}

Group& group_of(std::vector<Group>& groups, Event event, Eye eye) {
  for (Group& g : groups) {
    if (g.event == event && g.eye == eye) return g;
  }
  return groups.emplace_back(Group{event, eye, {}});
}

/// Of these covers those without a prism before the eyes.
std::vector<Group> find_groups(const Examined& x, const std::vector<const CoverSpan*>& covers) {
  std::vector<Group> groups;
  for (const CoverSpan* span : covers) {
    if (span->behind_prism) continue;
    const Eye other = fellow(span->eye);
    const Event began = span->transfer_in ? Event::crossed_over : Event::other_covered;
    const Tick before = span->transfer_in ? findings::kTransferGapMs : findings::kSameEventMs;
    const Movement* const taken_up = find_answer(x, other, span->from_ms, before);
    group_of(groups, began, other).answers.push_back(taken_up);
    if (!span->ended || span->transfer_out) continue;
    // What the last cover of an alternation frees had time to come out in full.
    const Event ends = span->transfer_in ? Event::crossed_over : Event::freed;
    group_of(groups, ends, span->eye).answers.push_back(find_freed(x, *span, taken_up));
  }
  return groups;
}

// An eye out of line takes up fixation whenever its fellow is covered, and soon: at half of the
// covers at least, and twice; or at the only one. What is seen once is looked for again.
bool fellow_moved(const std::vector<Group>& groups) {
  for (const Group& g : groups) {
    if (g.event != Event::other_covered) continue;
    std::size_t seen = 0;
    for (const Movement* m : g.answers) {
      const bool soon = m != nullptr && m->latency_ms() <= kTakesUpWithinMs;
      if (soon && is_seen(*m)) ++seen;
    }
    if (2 * seen >= g.answers.size() && (seen >= 2 || (seen == 1 && g.answers.size() == 1))) {
      return true;
    }
  }
  return false;
}

/// The largest of what stands for each group.
template <class Way, class Counts>
std::optional<Movement> find_largest(const std::vector<Group>& groups, const Way& way,
                                     const Counts& counts) {
  std::optional<Movement> largest;
  for (const Group& g : groups) {
    const Movement* m = counts(g) ? g.typical(way) : nullptr;
    if (m == nullptr) continue;
    if (!largest || magnitude(way(*m)) > magnitude(way(*largest))) largest = *m;
  }
  return largest;
}

template <class Way>
std::optional<double> size_of(const std::optional<Movement>& m, const Way& way) {
  return m ? std::optional(way(*m)) : std::nullopt;
}

/// By what a written size changes: as much as what was seen did.
double change(const std::optional<double>& done, const std::optional<double>& mended) {
  return mended ? *mended - done.value_or(0.0) : 0.0;
}

const Place* find_place(const Examined& x, const Finding& finding) {
  if (!finding.distance_m) return nullptr;
  for (const Place& place : x.places) {
    const bool spectacles = finding.spectacles.value_or(place.used_spectacles);
    if (findings::is_same_distance(place.used_m, *finding.distance_m) &&
        spectacles == place.used_spectacles) {
      return &place;
    }
  }
  return nullptr;
}

bool is_seen(const Sighting& s) {
  return magnitude(s.by_eye_pd.value_or(0.0)) >= kSeenHorizontalPd ||
         magnitude(s.by_eye_vertical_pd.value_or(0.0)) >= kSeenVerticalPd;
}

void write_again(const Sighting& done, const Sighting& mended, Finding& finding) {
  const bool measured = findings::is_by_prism(finding);
  if (finding.kind == FindingKind::none && !is_seen(done) && is_seen(mended)) {
    finding.kind = mended.fellow_moved ? FindingKind::tropia : FindingKind::phoria;
    if (mended.fellow_moved && mended.fellow) {
      finding.eye = mended.fellow->eye == Eye::right ? FindingEye::right : FindingEye::left;
    }
    finding.horizontal_pd = mended.by_eye_pd;
    finding.vertical_pd = mended.by_eye_vertical_pd;
    return;
  }
  if (finding.horizontal_pd) {
    const SeenPair seen = pair_seen(done, mended);
    *finding.horizontal_pd += measured ? change(done.by_prism_pd, mended.by_prism_pd)
                                       : change(seen.done_pd, seen.mended_pd);
  }
  if (finding.vertical_pd) {
    *finding.vertical_pd += measured
                                ? change(done.by_prism_vertical_pd, mended.by_prism_vertical_pd)
                                : change(done.by_eye_vertical_pd, mended.by_eye_vertical_pd);
  }
}

void write_label_again(const Sighting& done, const Sighting& mended, Finding& finding) {
  if (done.best_prism == nullptr || mended.best_prism == nullptr) return;
  if (finding.horizontal_pd) {
    *finding.horizontal_pd += mended.best_prism->horizontal_pd - done.best_prism->horizontal_pd;
  }
  if (finding.vertical_pd) {
    *finding.vertical_pd += mended.best_prism->vertical_pd - done.best_prism->vertical_pd;
  }
}

}  // namespace

SeenPair pair_seen(const Sighting& done, const Sighting& mended) {
  if (done.alone_pd && mended.alone_pd) return {done.alone_pd, mended.alone_pd};
  return {done.by_eye_pd, mended.by_eye_pd};
}

Sighting find_sighting(const Examined& x, const Place& place) {
  Sighting s;
  const std::vector<Group> groups = find_groups(x, place.covers);
  const auto any = [](const Group&) { return true; };
  const auto alone = [](const Group& g) { return g.event != Event::crossed_over; };
  const auto larger = [](const Movement& m) {
    return elementary::hypotenuse(across(m), in_height(m));
  };
  s.across = find_largest(groups, across, any);
  s.in_height = find_largest(groups, in_height, any);
  s.by_eye_pd = size_of(s.across, across);
  s.by_eye_vertical_pd = size_of(s.in_height, in_height);
  s.alone_pd = size_of(find_largest(groups, across, alone), across);
  s.fellow =
      find_largest(groups, larger, [](const Group& g) { return g.event == Event::other_covered; });
  s.freed = find_largest(groups, larger, [](const Group& g) { return g.event == Event::freed; });
  s.fellow_moved = fellow_moved(groups);
  double least = 0.0;
  for (const PrismStep* step : measuring_steps(place)) {
    const double left =
        magnitude(step->residual_horizontal_pd) + magnitude(step->residual_vertical_pd);
    if (s.best_prism != nullptr && left >= least) continue;
    least = left;
    s.best_prism = step;
    s.by_prism_pd = step->horizontal_pd + step->residual_horizontal_pd;
    s.by_prism_vertical_pd = step->vertical_pd + step->residual_vertical_pd;
  }
  return s;
}

std::optional<Movement> find_movement(const Examined& x,
                                      const std::vector<const CoverSpan*>& covers) {
  const std::vector<Group> groups = find_groups(x, covers);
  const auto any = [](const Group&) { return true; };
  const auto side = find_largest(groups, across, any);
  const auto height = find_largest(groups, in_height, any);
  if (!side || (height && magnitude(in_height(*height)) > magnitude(across(*side)))) return height;
  return side;
}

std::string describe_movement(const Movement& m, bool high) {
  const double size = high ? m.upward_pd : m.outward_pd;
  const char* way = high ? (size > 0.0 ? "up" : "down") : size > 0.0 ? "out" : "in";
  const char* when = m.cause == findings::Cause::uncover    ? "it was freed"
                     : m.cause == findings::Cause::transfer ? "the cover crossed over"
                                                            : "the other was covered";
  return fmt::format("{} eye {} {}, {:.2f} s after {}", name_of(m.eye), in_pd(size), way,
                     0.001 * static_cast<double>(m.latency_ms()), when);
}

std::string describe_movement(const Movement& m) {
  return describe_movement(m, magnitude(m.upward_pd) > magnitude(m.outward_pd));
}

std::vector<WrittenFinding> rewrite_notes(const Examined& done, const Examined& mended) {
  std::vector<WrittenFinding> notes = mended.evidence.notes;
  for (WrittenFinding& note : notes) {
    Finding& finding = note.finding;
    if (finding.test != FindingTest::cover_test && finding.test != FindingTest::prism_cover) {
      continue;
    }
    const Place* there = find_place(mended, finding);
    if (there == nullptr) continue;
    const auto index = static_cast<std::size_t>(there - mended.places.data());
    const Sighting was = find_sighting(done, done.places[index]);
    const Sighting is = find_sighting(mended, *there);
    const Finding written = finding;
    write_again(was, is, finding);
    // Who wrote the label of a prism that was there does so again, whatever was left behind it.
    if (findings::is_by_prism(written) && has_prism_evidence(done.places[index], written) &&
        !has_prism_evidence(*there, finding)) {
      finding = written;
      write_label_again(was, is, finding);
    }
  }
  return notes;
}

}  // namespace redress::scoring
