// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Part A of the rubric: what comes before the cover.
#include <algorithm>

#include <fmt/format.h>

#include "sim/scoring/items.hpp"

namespace redress::scoring {

using findings::CoverSpan;

namespace {

constexpr Tick kLookFirstMs = 3000;
constexpr double kOneLine = 0.1;  // logMAR
constexpr double kRounding = 0.005;
// Five lines above threshold a letter no longer asks for exact accommodation (judgement).
constexpr double kLargestAboveThreshold = 0.5;

double share_of_target(const CoverSpan& span) {
  if (span.kind == TargetKind::spot) return 0.0;
  if (!span.resolvable.right && !span.resolvable.left) return 0.0;
  const double above =
      span.size_logmar - std::max(span.threshold_logmar.right, span.threshold_logmar.left);
  return above + kRounding >= kOneLine && above <= kLargestAboveThreshold + kRounding ? 1.0 : 0.5;
}

// A question's key as a reader says it: "double_vision" -> "double vision".
std::string in_words(std::string key) {
  std::replace(key.begin(), key.end(), '_', ' ');
  return key;
}

}  // namespace

// The poorest target used at a place counts: a change for the worse is seen by nobody else.
double share_of_targets(const Place& place) {
  double share = 1.0;
  for (const CoverSpan* span : place.covers) {
    if (!span->behind_prism) share = std::min(share, share_of_target(*span));
  }
  return share;
}

// Equal shares for each key question.
Mark mark_history(const Examined& x) {
  Mark mark;
  int wanted = 0;
  double sum = 0.0;
  for (const std::string& key : find_key_questions(x.the_case)) {
    ++wanted;
    const auto asked = find_key_question(x, key);
    if (!asked) {
      mark.why += fmt::format("Not asked: {}. ", in_words(key));
      continue;
    }
    mark.evidence.push_back({*asked, fmt::format("asked: {}", in_words(key))});
    const bool before = !x.evidence.first_cover_ms || *asked < *x.evidence.first_cover_ms;
    if (!before) mark.why += fmt::format("Asked only after the first cover: {}. ", in_words(key));
    sum += before ? 1.0 : 0.5;
  }
  if (wanted == 0) return removed("The case has no history to ask for.");
  mark.share = sum / wanted;
  if (mark.share >= 1.0) mark.why = "The key questions were asked before the first cover.";
  return mark;
}

// Testing in another state as well is no fault.
Mark mark_correction(const Examined& x) {
  const char* wanted = x.right_spectacles ? "with the spectacles worn" : "without any correction";
  int tested = 0;
  int right = 0;
  Mark mark;
  for (const Place& place : x.places) {
    if (!is_tested(place)) continue;
    ++tested;
    if (place.used_spectacles == x.right_spectacles) ++right;
    mark.evidence.push_back({place.covers.front()->from_ms, "first cover, " + place.name});
  }
  if (tested == 0) return {0.0, false, "Nothing was tested.", {}};
  mark.share = right == tested ? 1.0 : right > 0 ? 0.5 : 0.0;
  mark.why = right == tested ? fmt::format("Tested {}, as it should be.", wanted)
                             : fmt::format("Not tested {}.", wanted);
  return mark;
}

Mark mark_target(const Examined& x) {
  double share = 1.0;
  int missing = 0;
  int tested = 0;
  Mark mark;
  for (const Place& place : x.places) {
    const bool there =
        is_tested(place) && findings::is_same_distance(place.used_m, place.nominal_m);
    if (!there) {
      ++missing;
      mark.why += fmt::format("{}: not tested at this distance. ", place.name);
    }
    if (!is_tested(place)) continue;
    ++tested;
    const double target = share_of_targets(place);
    if (target < 1.0) {
      mark.why += fmt::format(
          "{}: the target was not a detail one or two lines larger than what "
          "the worse eye resolves. ",
          place.name);
    }
    share = std::min(share, target);
    const CoverSpan& span = *place.covers.front();
    mark.evidence.push_back(
        {span.from_ms, fmt::format("covered at {:.2f} m, target of {:.2f} logMAR",
                                   span.setting.distance_m, span.size_logmar)});
  }
  if (tested == 0) return {0.0, false, "Nothing was tested.", {}};
  if (missing > 0) share = std::min(share, 0.5);
  mark.share = share;
  if (mark.why.empty()) mark.why = "A detail that either eye resolves, at every distance.";
  return mark;
}

Mark mark_looking(const Examined& x) {
  const bool tested = std::any_of(x.places.begin(), x.places.end(), is_tested);
  if (!x.evidence.first_cover_ms || !tested) return {0.0, false, "Nothing was tested.", {}};
  const Tick first = *x.evidence.first_cover_ms;
  const bool looked = x.evidence.looked_ms >= kLookFirstMs;
  const bool told = x.evidence.instructed_ms && *x.evidence.instructed_ms <= first;
  Mark mark;
  mark.share = (looked ? 0.5 : 0.0) + (told ? 0.5 : 0.0);
  mark.why = looked ? "Looked at both eyes for 3 s and more before the first cover"
                    : "Covered before both eyes had been looked at for 3 s";
  mark.why += told ? ", and said where to look." : ", and did not say where to look.";
  mark.evidence.push_back({first, "first cover"});
  if (told) mark.evidence.push_back({*x.evidence.instructed_ms, "instruction"});
  return mark;
}

}  // namespace redress::scoring
