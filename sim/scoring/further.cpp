// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Parts E and F of the rubric: tests that the case calls for, and the record.
#include <algorithm>

#include <fmt/format.h>

#include "sim/findings/shorthand.hpp"
#include "sim/scoring/called_for.hpp"
#include "sim/scoring/items.hpp"

namespace redress::scoring {

using findings::WrittenFinding;

Mark mark_further_tests(const Examined& x) {
  const std::vector<CalledTest> called = find_called_tests(x);
  if (called.empty()) return removed("The case calls for no further test.");
  Mark mark;
  for (const CalledTest test : called) mark.share += share_of_test(test, x, mark);
  mark.share /= static_cast<double>(called.size());
  if (mark.share >= 1.0) mark.why = "What the case calls for was done and read right.";
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
    mark.evidence.push_back({entry.at_ms, findings::write_shorthand(f, findings::Tradition::uk)});
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
    mark.why +=
        fmt::format("{} of {} entries could not have been seen. ", written - entries, written);
  } else if (missing == 0) {
    mark.why = "Each entry says distance, correction, method, size and kind.";
  }
  return mark;
}

}  // namespace redress::scoring
