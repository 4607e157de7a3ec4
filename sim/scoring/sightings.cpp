// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/scoring/sightings.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "sim/basics/elementary.hpp"
#include "sim/scoring/rubric.hpp"

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

/// The cover of this place, no prism before the eyes, that a movement answers to.
const CoverSpan* find_cover(const Place& place, const Movement& m) {
  for (const CoverSpan* span : place.covers) {
    if (span->behind_prism) continue;
    const Tick event = m.event_ms;
    const bool began = magnitude(static_cast<double>(event - span->from_ms)) <=
                       static_cast<double>(findings::kSameEventMs);
    const bool ended = magnitude(static_cast<double>(event - span->to_ms)) <=
                       static_cast<double>(findings::kSameEventMs);
    if (began || ended) return span;
  }
  return nullptr;
}

void keep_larger(std::optional<double>& kept, double value) {
  if (!kept || magnitude(value) > magnitude(*kept)) kept = value;
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

}  // namespace

SeenPair pair_seen(const Sighting& done, const Sighting& mended) {
  if (done.alone_pd && mended.alone_pd) return {done.alone_pd, mended.alone_pd};
  return {done.by_eye_pd, mended.by_eye_pd};
}

Sighting find_sighting(const Examined& x, const Place& place) {
  Sighting s;
  for (const Movement& m : x.evidence.movements) {
    if (m.under_cover || m.cause == findings::Cause::other) continue;
    const CoverSpan* span = find_cover(place, m);
    if (span == nullptr) continue;
    if (m.latency_ms() > kLongestLatencyMs) continue;
    // A latent deviation shows in the eye that was covered, a manifest one in the eye that was not.
    const bool fellow = m.cause == findings::Cause::cover && m.eye != span->eye;
    if (m.cause == findings::Cause::cover && !fellow) continue;
    if (m.cause == findings::Cause::uncover && m.eye != span->eye) continue;
    const auto before = s.by_eye_pd;
    keep_larger(s.by_eye_pd, m.shown_horizontal_pd());
    if (s.by_eye_pd != before) s.largest = m;
    if (span->unilateral()) keep_larger(s.alone_pd, m.shown_horizontal_pd());
    keep_larger(s.by_eye_vertical_pd, m.shown_vertical_pd());
    s.fellow_moved =
        s.fellow_moved || (fellow && (magnitude(m.shown_horizontal_pd()) >= kSeenHorizontalPd ||
                                      magnitude(m.shown_vertical_pd()) >= kSeenVerticalPd));
  }
  double least = 0.0;
  for (const PrismStep* step : measuring_steps(place)) {
    const double left =
        magnitude(step->residual_horizontal_pd) + magnitude(step->residual_vertical_pd);
    if (s.by_prism_pd && left >= least) continue;
    least = left;
    s.by_prism_pd = step->horizontal_pd + step->residual_horizontal_pd;
    s.by_prism_vertical_pd = step->vertical_pd + step->residual_vertical_pd;
  }
  return s;
}

std::string describe_movement(const Movement& m) {
  const bool across = magnitude(m.outward_pd) >= magnitude(m.upward_pd);
  const double size = magnitude(across ? m.outward_pd : m.upward_pd);
  const char* way = across              ? (m.outward_pd > 0.0 ? "out" : "in")
                    : m.upward_pd > 0.0 ? "up"
                                        : "down";
  const char* when = m.cause == findings::Cause::uncover    ? "it was freed"
                     : m.cause == findings::Cause::transfer ? "the cover crossed over"
                                                            : "the other was covered";
  return fmt::format("{} eye {:.1f} {}, {:.2f} s after {}", name_of(m.eye), size, way,
                     0.001 * static_cast<double>(m.latency_ms()), when);
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
    write_again(find_sighting(done, done.places[index]), find_sighting(mended, *there), finding);
  }
  return notes;
}

}  // namespace redress::scoring
