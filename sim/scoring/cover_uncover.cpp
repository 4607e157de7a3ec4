// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Part B of the rubric: the cover-uncover test.
#include <algorithm>
#include <string>

#include <fmt/format.h>

#include "sim/scoring/items.hpp"

namespace redress::scoring {

using findings::CoverSpan;

namespace {

constexpr Tick kLongEnoughMs = 2000;  // rubric B2; 2 to 3 s in a hospital guide
constexpr double kLongestWantedMs = 5000;
constexpr double kLogOfTen = 2.302585092994046;  // 90 % of an exponential
constexpr double kOnsetMs = 260;                 // of the drift under cover, after the cover
constexpr double kHandMs = 100;                  // a hand is no clock
constexpr Tick kOpenMs = 2000;
constexpr Tick kOpenShortMs = 1000;
constexpr double kMostCovers = 0.8;  // of the covers have to be so
constexpr double kViewFull = 0.9;
constexpr double kViewHalf = 0.7;

// For how long the seeing eye of the practitioner had lost it; nothing where neither had.
std::string describe_lost(const CoverSpan& span) {
  const PerEye<Tick>& lost = span.own_eye_lost_ms;
  if (lost.right == 0 && lost.left == 0) return "";
  return fmt::format("; lost to your right eye for {} ms, to your left for {} ms", lost.right,
                     lost.left);
}

}  // namespace

std::vector<const CoverSpan*> unilateral_covers(const Place& place, bool one_eye_too) {
  std::vector<const CoverSpan*> covers;
  if (!one_eye_too && !did_unilateral(place)) return covers;
  for (const CoverSpan* span : place.covers) {
    if (span->unilateral() && !span->behind_prism) covers.push_back(span);
  }
  return covers;
}

double calc_wanted_cover_ms(const Examined& x) {
  const bool latent = std::any_of(x.places.begin(), x.places.end(),
                                  [](const Place& p) { return p.rank() == 1 || p.rank() == 2; });
  const double t90 = latent ? kOnsetMs + 1000.0 * kLogOfTen * x.setup.patient.fusion.release_s : 0;
  return std::clamp(t90, double{kLongEnoughMs}, kLongestWantedMs) - kHandMs;
}

bool did_cover_uncover(const Examined& x) {
  // At any distance, called for or not.
  for (const CoverSpan& a : x.evidence.covers) {
    if (!a.unilateral()) continue;
    for (const CoverSpan& b : x.evidence.covers) {
      if (b.unilateral() && b.eye != a.eye &&
          findings::is_same_distance(a.setting.distance_m, b.setting.distance_m)) {
        return true;
      }
    }
  }
  return false;
}

Mark mark_covers(const Examined& x) {
  Mark mark;
  int wanted = 0;
  int done = 0;
  bool all_before = true;
  PerEye<bool> ever;
  for (const Place& place : x.places) {
    const auto covers = unilateral_covers(place, true);
    for (const Eye eye : kBothEyes) {
      ++wanted;
      const auto of_eye = std::find_if(covers.begin(), covers.end(),
                                       [eye](const CoverSpan* s) { return s->eye == eye; });
      if (of_eye == covers.end()) {
        mark.why += fmt::format("{}: the {} eye was not covered and uncovered by itself. ",
                                place.name, name_of(eye));
        continue;
      }
      ++done;
      ever[eye] = true;
      mark.evidence.push_back(
          {(*of_eye)->from_ms, fmt::format("{} eye covered, {}", name_of(eye), place.name)});
      if (!(*of_eye)->before_alternating) {
        all_before = false;
        mark.why += fmt::format("{}: alternated before the {} eye's cover-uncover. ", place.name,
                                name_of(eye));
      }
    }
  }
  if (done == wanted && all_before) {
    mark.share = 1.0;
    mark.why = "Each eye at each distance, before any alternating.";
  } else if (ever.right && ever.left && 2 * done >= wanted) {
    mark.share = 0.5;
  }
  return mark;
}

Mark mark_cover_time(const Examined& x) {
  const double wanted = calc_wanted_cover_ms(x);
  Mark mark;
  PerEye<int> long_enough;
  PerEye<int> fair;
  int covers = 0;
  for (const Place& place : x.places) {
    for (const CoverSpan* span : unilateral_covers(place)) {
      ++covers;
      const double ms = static_cast<double>(span->duration_ms());
      if (ms >= wanted) ++long_enough[span->eye];
      if (span->duration_ms() >= findings::kShortestCoverMs) ++fair[span->eye];
      mark.evidence.push_back({span->from_ms, fmt::format("{} eye covered for {:.1f} s",
                                                          name_of(span->eye), ms / 1000.0)});
    }
  }
  if (covers == 0) return {0.0, false, "No eye was covered and uncovered by itself.", {}};
  const int most = long_enough.right + long_enough.left;
  if (long_enough.right >= 2 && long_enough.left >= 2 && 2 * most >= covers) {
    mark.share = 1.0;
    mark.why =
        fmt::format("At least two covers of each eye of {:.1f} s and more.", wanted / 1000.0);
  } else if (fair.right >= 1 && fair.left >= 1) {
    mark.share = 0.5;
    mark.why = fmt::format("Too few covers of each eye as long as this patient needs ({:.1f} s).",
                           wanted / 1000.0);
  } else {
    mark.why = "The covers were too short to show anything.";
  }
  return mark;
}

Mark mark_open_time(const Examined& x) {
  int covers = 0;
  int full = 0;
  int half = 0;
  bool any_fuse = false;
  Mark mark;
  for (const Place& place : x.places) {
    const bool can_fuse = place.there.right.manifest == truth::Manifest::none;
    any_fuse = any_fuse || can_fuse;
    for (const CoverSpan* span : unilateral_covers(place)) {
      ++covers;
      const bool back = span->fused_before_next || !can_fuse;
      if (span->open_after_ms >= kOpenMs && back) ++full;
      if (span->open_after_ms >= kOpenShortMs) ++half;
      mark.evidence.push_back(
          {span->to_ms, fmt::format("open for {:.1f} s after the {} eye's cover{}",
                                    0.001 * static_cast<double>(span->open_after_ms),
                                    name_of(span->eye), back ? "" : ", and not single again")});
    }
  }
  if (covers == 0) return {0.0, false, "No eye was covered and uncovered by itself.", {}};
  const double least = kMostCovers * covers;
  if (full >= least) {
    mark.share = 1.0;
    mark.why = "Both eyes were left open for 2 s and more after each cover";
    mark.why += any_fuse ? ", and came back." : ".";
  } else if (half >= least) {
    mark.share = 0.5;
    mark.why = "The eyes were left open for 1 s, which is not long enough to see them come back.";
  } else {
    mark.why = "The eyes had no time to come back between the covers.";
  }
  return mark;
}

Mark mark_own_view(const Examined& x) {
  double seen = 0.0;
  int count = 0;
  Mark mark;
  for (const Place& place : x.places) {
    for (const CoverSpan* span : unilateral_covers(place)) {
      seen += span->view_on_cover + span->view_on_uncover;
      count += 2;
      mark.evidence.push_back(
          {span->from_ms,
           fmt::format("{} eye: in view for {:.0f} % after the cover, {:.0f} % after uncovering{}",
                       name_of(span->eye), 100.0 * span->view_on_cover,
                       100.0 * span->view_on_uncover, describe_lost(*span))});
    }
  }
  if (count == 0) return {0.0, false, "No eye was covered and uncovered by itself.", {}};
  const double share = seen / count;
  mark.share = share >= kViewFull ? 1.0 : share >= kViewHalf ? 0.5 : 0.0;
  mark.why = fmt::format(
      "The eye that answers was in view for {:.0f} % of the 600 ms after each "
      "cover and uncover.",
      100.0 * share);
  return mark;
}

}  // namespace redress::scoring
