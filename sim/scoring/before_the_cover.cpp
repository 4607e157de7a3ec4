// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Part A of the rubric: what comes before the cover.
#include <algorithm>
#include <iterator>

#include <fmt/format.h>

#include "sim/findings/shorthand.hpp"
#include "sim/patient/poor_sight.hpp"
#include "sim/scoring/items.hpp"

namespace redress::scoring {

using findings::CoverSpan;

namespace {

constexpr Tick kLookFirstMs = 3000;
constexpr double kOneLine = 0.1;  // logMAR
constexpr double kRounding = 0.005;
constexpr double kLeastAmplitudeD = 1.0;  // judgement
// Near work is tested at either in clinics (common practice, no source).
constexpr double kUsualNearM[] = {0.33, 0.40};
// Five lines above threshold a letter no longer asks for exact accommodation (judgement).
constexpr double kLargestAboveThreshold = 0.5;

// Where accommodation can move the eyes a spot of light is no target; where there is none left it
// is a poor one.
double share_of_target(const Examined& x, const CoverSpan& span) {
  if (span.kind == TargetKind::spot) {
    return x.setup.patient.accommodation.amplitude_d >= kLeastAmplitudeD ? 0.0 : 0.5;
  }
  if (!span.resolvable.right && !span.resolvable.left) return 0.0;
  const double above = span.size_logmar - calc_worse_threshold(span);
  // A very large one for an eye that may see it after all is no fault.
  const bool blind =
      std::max(span.threshold_logmar.right, span.threshold_logmar.left) >= patient::kNoFormLogmar;
  const bool detail = blind || above <= kLargestAboveThreshold + kRounding;
  return above + kRounding >= kOneLine && detail ? 1.0 : 0.5;
}

// Within 10 % of the distance called for. Where that is one of the two at which clinics test near,
// the other will do as well: what is there is computed for where it was tested (practice, A6). A
// patient who works at another distance is tested there.
bool is_at_distance(const Place& place) {
  if (findings::is_same_distance(place.used_m, place.nominal_m)) return true;
  const auto is_usual = [](double m) {
    return std::any_of(std::begin(kUsualNearM), std::end(kUsualNearM),
                       [m](double usual) { return findings::is_same_distance(m, usual); });
  };
  return is_usual(place.nominal_m) && is_usual(place.used_m);
}

std::string describe_target(const CoverSpan& span) {
  switch (span.kind) {
    case TargetKind::spot: return "a spot of light";
    case TargetKind::letters: return fmt::format("letters of {:.1f} logMAR", span.size_logmar);
    case TargetKind::letter: return fmt::format("a letter of {:.1f} logMAR", span.size_logmar);
    case TargetKind::picture: return fmt::format("a picture of {:.1f} logMAR", span.size_logmar);
  }
  return "";
}

// A question's key as a reader says it: "double_vision" -> "double vision".
std::string in_words(std::string key) {
  std::replace(key.begin(), key.end(), '_', ' ');
  return key;
}

// Asked for by the case: each eye covered at one distance without the glasses as well.
bool did_without(const Examined& x, Mark& mark) {
  if (!x.the_case.expected.also_without || !x.setup.room.spectacles_owned) return true;
  const CoverSpan* span = find_cover_without(x);
  if (span == nullptr) {
    mark.why += "Not covered without the glasses as well. ";
    return false;
  }
  mark.evidence.push_back({span->from_ms, "covered without the glasses as well"});
  return true;
}

bool carries_prism_or_add(const std::optional<CaseSpectacleLens>& lens, Dioptres add) {
  return lens && (lens->prism.value != 0.0 || add.value > 0.0);
}

// A prism in the glasses hides what is there, and an addition has to be looked through.
bool checked_glasses(const Examined& x, Mark& mark) {
  const CaseSpectacles& glasses = x.the_case.spectacles;
  const bool wanted = carries_prism_or_add(glasses.lens.right, glasses.add) ||
                      carries_prism_or_add(glasses.lens.left, glasses.add);
  if (!wanted) return true;
  for (const findings::Question& request : x.evidence.requests) {
    if (request.what != "spectacles") continue;
    mark.evidence.push_back({request.at_ms, "the glasses were looked at"});
    return true;
  }
  mark.why += "The glasses were not checked for a prism or an addition. ";
  return false;
}

std::string describe_correction(const CoverSpan& span) {
  const findings::Setting& s = span.setting;
  std::string words = s.spectacles ? "glasses on" : "no glasses";
  if (s.lenses) words += fmt::format(", trial lenses {:+.2f} D", s.lens_d);
  return words;
}

}  // namespace

double calc_worse_threshold(const CoverSpan& span) {
  const auto [better, worse] = std::minmax(span.threshold_logmar.right, span.threshold_logmar.left);
  return worse >= patient::kNoFormLogmar ? better : worse;
}

// The poorest target used at a place counts: a change for the worse is seen by nobody else.
double share_of_targets(const Examined& x, const Place& place) {
  double share = 1.0;
  for (const CoverSpan* span : place.covers) {
    if (!span->behind_prism) share = std::min(share, share_of_target(x, *span));
  }
  return share;
}

// Four fifths of the key questions before the first cover; half of them at any time, or four fifths
// with some of them late, is half.
Mark mark_history(const Examined& x) {
  constexpr std::size_t kFullOfFive = 4;
  const std::vector<std::string> keys = find_key_questions(x.the_case);
  if (keys.empty()) return removed("The case has no history to ask for.");
  Mark mark;
  std::size_t asked = 0;
  std::size_t in_time = 0;
  for (const std::string& key : keys) {
    const auto at_ms = find_key_question(x, key);
    if (!at_ms) {
      mark.why += fmt::format("Not asked: {}. ", in_words(key));
      continue;
    }
    ++asked;
    mark.evidence.push_back({*at_ms, fmt::format("asked: {}", in_words(key))});
    if (!x.evidence.first_cover_ms || *at_ms < *x.evidence.first_cover_ms) {
      ++in_time;
    } else {
      mark.why += fmt::format("Asked only after the first cover: {}. ", in_words(key));
    }
  }
  if (asked < keys.size() || in_time < asked) {
    mark.evidence.push_back(x.evidence.first_cover_ms
                                ? MarkEvidence{*x.evidence.first_cover_ms, "the first cover"}
                                : MarkEvidence{x.evidence.end_ms, "the end, without a cover"});
  }
  if (5 * in_time >= kFullOfFive * keys.size()) {
    mark.share = 1.0;
    mark.why = in_time == keys.size() ? "The key questions were asked before the first cover."
                                      : "Four fifths of the key questions and more were asked "
                                        "before the first cover. " +
                                            mark.why;
  } else if (2 * asked >= keys.size()) {
    mark.share = 0.5;
  }
  return mark;
}

// Testing in another state as well is no fault. Trial lenses through which the target is clear are
// as good as glasses.
Mark mark_correction(const Examined& x) {
  int tested = 0;
  int right = 0;
  Mark mark;
  for (const Place& place : x.places) {
    if (!is_tested(place)) continue;
    ++tested;
    mark.evidence.push_back(
        {place.covers.front()->from_ms, fmt::format("{}: first cover, {}", place.name,
                                                    describe_correction(*place.covers.front()))});
    if (place.right_correction) {
      ++right;
    } else if (place.used_spectacles != place.right_spectacles) {
      mark.why += fmt::format("{}: not tested {}. ", place.name,
                              place.right_spectacles ? "with the glasses" : "without the glasses");
    } else {
      mark.why += fmt::format("{}: not seen clearly with what was worn. ", place.name);
    }
  }
  if (tested == 0) return {0.0, false, "Nothing was tested.", {}};
  // Tested only in the wrong state: nothing. Else one of two without what the case asks for beside
  // it: covers without the glasses, a look at glasses that carry a prism or an addition.
  const bool without = did_without(x, mark);
  const bool also = checked_glasses(x, mark) && without;
  mark.share = right == 0 ? 0.0 : right == tested && also ? 1.0 : 0.5;
  if (mark.share >= 1.0) mark.why = "Tested with the correction that makes it clear.";
  return mark;
}

namespace {

// The poorest of the targets: what it was, and what it should have been.
std::string describe_poor_target(const Examined& x, const Place& place) {
  const CoverSpan* poorest = nullptr;
  for (const CoverSpan* span : place.covers) {
    if (span->behind_prism) continue;
    if (poorest == nullptr || share_of_target(x, *span) < share_of_target(x, *poorest)) {
      poorest = span;
    }
  }
  if (poorest == nullptr) return "";
  const double threshold = calc_worse_threshold(*poorest);
  return fmt::format(
      "{}: {}, where a detail of {:.1f} to {:.1f} logMAR is one or two lines larger than what the "
      "worse eye resolves. ",
      place.name, describe_target(*poorest), threshold + kOneLine, threshold + 2.0 * kOneLine);
}

}  // namespace

Mark mark_target(const Examined& x) {
  double share = 1.0;
  int missing = 0;
  int tested = 0;
  Mark mark;
  for (const Place& place : x.places) {
    if (!is_tested(place) || !is_at_distance(place)) {
      ++missing;
      mark.why += fmt::format("{}: not tested at this distance. ", place.name);
    }
    if (!is_tested(place)) continue;
    ++tested;
    const double target = share_of_targets(x, place);
    if (target < 1.0) {
      mark.why += describe_poor_target(x, place);
    }
    share = std::min(share, target);
    const CoverSpan& span = *place.covers.front();
    mark.evidence.push_back(
        {span.from_ms,
         fmt::format("{}: covered at {}, {}", place.name,
                     findings::write_distance(span.setting.distance_m), describe_target(span))});
  }
  if (tested == 0) return {0.0, false, "Nothing was tested.", {}};
  if (missing > 0) share = std::min(share, missing == 1 ? 0.5 : 0.0);
  mark.share = share;
  if (mark.why.empty()) mark.why = "A detail that either eye resolves, at every distance.";
  return mark;
}

const CoverSpan* find_cover_without(const Examined& x) {
  PerEye<const CoverSpan*> first{nullptr, nullptr};
  for (const CoverSpan& span : x.evidence.covers) {
    const findings::Setting& s = span.setting;
    if (s.spectacles || s.lenses || !is_for_cover_test(x.setup, s) ||
        span.duration_ms() < findings::kShortestCoverMs) {
      continue;
    }
    if (first[span.eye] == nullptr) first[span.eye] = &span;
  }
  return first.left == nullptr ? nullptr : first.right;
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
  mark.evidence.push_back(
      {first, fmt::format("first cover; both eyes open and looked at for {:.1f} s before it",
                          0.001 * static_cast<double>(x.evidence.looked_ms))});
  if (told) mark.evidence.push_back({*x.evidence.instructed_ms, "instruction"});
  return mark;
}

}  // namespace redress::scoring
