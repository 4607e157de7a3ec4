// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Parts E and F of the rubric: tests that the case calls for, and the record.
#include <algorithm>

#include <fmt/format.h>

#include "sim/basics/elementary.hpp"
#include "sim/scoring/items.hpp"

namespace redress::scoring {

using elementary::magnitude;
using findings::FourDioptreTrial;
using findings::WrittenFinding;

namespace {

constexpr double kUnequalLogmar = 0.1;
// The four-dioptre test is for angles below 10 (teaching page on the test, [97] of the clinical
// notes: "small-angle, less than 10").
constexpr double kSmallAnglePd = 10.0;

bool calls_for_four_dioptre(const Examined& x) {
  const Place& six = x.places.front();
  const truth::Condition& c = six.there.right;
  if (c.manifest == truth::Manifest::intermittent) return false;
  const double angle = std::max(magnitude(c.manifest_horizontal_pd),
                                magnitude(c.manifest_vertical_pd));
  if (c.manifest == truth::Manifest::constant && angle >= kSmallAnglePd) return false;
  const auto& acuity = x.setup.patient.sensory.acuity_logmar;
  const bool unequal = magnitude(acuity.right - acuity.left) >= kUnequalLogmar - 1e-9;
  return unequal || x.truth.suppression_eye != WhichEyes::none;
}

const WrittenFinding* find_response(const Examined& x, Eye eye) {
  const FindingEye word = eye == Eye::right ? FindingEye::right : FindingEye::left;
  const WrittenFinding* found = nullptr;
  for (const WrittenFinding& entry : x.card.entries) {
    const Finding& f = entry.finding;
    if (f.test != FindingTest::four_dioptre || !f.response) continue;
    if (f.eye == word || f.eye == FindingEye::both) found = &entry;
  }
  return found;
}

// Normals answer atypically now and then: what this patient did in this examination is right too.
bool response_is_right(const Examined& x, Eye eye, FourDioptreResponse written) {
  if (x.truth.four_dioptre[eye] == written) return true;
  return std::any_of(x.evidence.four_dioptre.begin(), x.evidence.four_dioptre.end(),
                     [&](const FourDioptreTrial& t) { return t.eye == eye && t.seen == written; });
}

const FourDioptreTrial* find_trial(const Examined& x, Eye eye) {
  for (const FourDioptreTrial& t : x.evidence.four_dioptre) {
    if (t.eye == eye && t.seen && t.setting.straight && !t.setting.lenses) return &t;
  }
  return nullptr;
}

}  // namespace

Mark mark_further_tests(const Examined& x) {
  if (!calls_for_four_dioptre(x)) return removed("The case calls for no further test.");
  Mark mark;
  double sum = 0.0;
  for (const Eye eye : kBothEyes) {
    const FourDioptreTrial* trial = find_trial(x, eye);
    if (trial == nullptr) {
      mark.why += fmt::format("No four-dioptre test of the {} eye. ", name_of(eye));
      continue;
    }
    mark.evidence.push_back({trial->at_ms, fmt::format("four base out, {} eye", name_of(eye))});
    const WrittenFinding* entry = find_response(x, eye);
    const bool right =
        entry != nullptr && response_is_right(x, eye, *entry->finding.response);
    if (!right) mark.why += fmt::format("The {} eye's answer was not read right. ", name_of(eye));
    sum += right ? 1.0 : 0.5;
  }
  mark.share = sum / 2.0;
  if (mark.share >= 1.0) mark.why = "Four dioptres base out before each eye, and read right.";
  return mark;
}

Mark mark_record(const Examined& x) {
  Mark mark;
  bool distance = true;
  bool correction = true;
  bool method = true;
  bool size = true;
  bool kind = true;
  int written = 0;
  int entries = 0;
  for (const WrittenFinding& entry : x.card.entries) {
    const Finding& f = entry.finding;
    if (f.test != FindingTest::cover_test && f.test != FindingTest::prism_cover) continue;
    ++written;
    if (!has_evidence(x, entry)) continue;
    ++entries;
    mark.evidence.push_back({entry.at_ms, "entry"});
    const bool nothing = f.kind == FindingKind::none;
    distance = distance && f.distance_m.has_value();
    correction = correction && (f.spectacles || !x.setup.room.spectacles_owned);
    method = method && (f.method || nothing || f.test == FindingTest::prism_cover);
    size = size && (f.horizontal_pd || f.vertical_pd || nothing);
    kind = kind && (f.kind || f.test == FindingTest::prism_cover) &&
           (f.kind != FindingKind::tropia || f.eye);
  }
  if (entries == 0) return {0.0, false, "No entry that anything done could have shown.", {}};
  const auto miss = [&](bool there, const char* what) {
    if (!there) mark.why += fmt::format("{} is missing. ", what);
    return there ? 0 : 1;
  };
  // The sixth, the target, is kept with the acts.
  const int missing = miss(distance, "The distance") + miss(correction, "The correction") +
                      miss(method, "How it was found") + miss(size, "A size") +
                      miss(kind, "The kind, or the eye,");
  mark.share = missing == 0 ? 1.0 : missing <= 2 ? 0.5 : 0.0;
  if (entries < written) {
    // What nothing could have shown is no record of anything.
    mark.share *= static_cast<double>(entries) / written;
    mark.why += fmt::format("{} of {} entries could not have been seen. ", written - entries,
                            written);
  } else if (missing == 0) {
    mark.why = "Each entry says distance, correction, method, size and kind.";
  }
  return mark;
}

}  // namespace redress::scoring
