// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/examiners/coach_further.hpp"

#include <algorithm>

#include "sim/basics/elementary.hpp"

namespace redress::examiners {

using elementary::magnitude;
using findings::Evidence;
using findings::WrittenFinding;

namespace {

constexpr double kWithinReachM = 0.55;
constexpr double kTiltedDeg = 20.0;
constexpr double kHighPd = 1.0;
constexpr double kDifferencePd = 5.0;  // near against distance, from which it is looked into
constexpr double kLeastLensChangeD = 0.75;
constexpr std::size_t kApproaches = 2;
constexpr int kBarSteps = 4;

/// What was written of the covers.
struct Written {
  bool any = false;
  bool tropia = false;
  bool phoria = false;
  bool high = false;
  std::optional<double> far_pd;
  std::optional<double> near_pd;
};

Written read_notes(const Evidence& e) {
  Written w;
  for (const WrittenFinding& note : e.notes) {
    const Finding& f = note.finding;
    if (f.test != FindingTest::cover_test && f.test != FindingTest::prism_cover) continue;
    w.any = true;
    w.tropia = w.tropia || f.kind == FindingKind::tropia;
    w.phoria = w.phoria || f.kind == FindingKind::phoria;
    w.high = w.high || magnitude(f.vertical_pd.value_or(0.0)) >= kHighPd;
    if (!f.distance_m || !f.horizontal_pd) continue;
    (*f.distance_m <= kWithinReachM ? w.near_pd : w.far_pd) = f.horizontal_pd;
  }
  return w;
}

bool has_note(const Evidence& e, FindingTest test) {
  return std::any_of(e.notes.begin(), e.notes.end(),
                     [test](const WrittenFinding& n) { return n.finding.test == test; });
}

bool wrote_sides(const Evidence& e) {
  return has_note(e, FindingTest::motility) || has_note(e, FindingTest::gaze) ||
         std::any_of(e.notes.begin(), e.notes.end(),
                     [](const WrittenFinding& n) { return n.finding.comitant.has_value(); });
}

bool tilted(const Evidence& e) {
  PerEye<bool> done;  // towards either shoulder
  for (const findings::CoverSpan& span : e.covers) {
    if (span.setting.roll_deg >= kTiltedDeg) done.right = true;
    if (span.setting.roll_deg <= -kTiltedDeg) done.left = true;
  }
  return done.right && done.left;
}

bool wrote_tilt(const Evidence& e) {
  return std::any_of(e.notes.begin(), e.notes.end(), [](const WrittenFinding& n) {
    return n.finding.test == FindingTest::gaze &&
           magnitude(n.finding.head_roll_deg.value_or(0.0)) >= kTiltedDeg;
  });
}

// Steps of a bar with both eyes open: each larger than the one before.
bool took_to_break(const Evidence& e) {
  int run = 0;
  double last = 0.0;
  for (const findings::PrismStep& step : e.prisms) {
    const double label = magnitude(step.horizontal_pd);
    const bool open = step.open && step.transfers == 0;
    run = !open ? 0 : label > last ? run + 1 : 1;
    last = label;
    if (run >= kBarSteps) return true;
  }
  return false;
}

bool tried_lenses(const Evidence& e) {
  double least = 0.0;
  double most = 0.0;
  for (const findings::CoverSpan& span : e.covers) {
    if (span.setting.distance_m > kWithinReachM) continue;
    least = std::min(least, span.setting.lens_d);
    most = std::max(most, span.setting.lens_d);
  }
  return most - least >= kLeastLensChangeD;
}

bool tried_four_dioptres(const Evidence& e) {
  PerEye<bool> done;
  for (const findings::FourDioptreTrial& t : e.four_dioptre) done[t.eye] = true;
  return done.right && done.left;
}

std::optional<Advice> after(bool done, bool written, Advice test, Step write, const char* what) {
  if (!done) return test;
  if (written) return std::nullopt;
  return Advice{write, what, "Unwritten is not found."};
}

}  // namespace

std::optional<Advice> advise_further(const Evidence& e) {
  const Written w = read_notes(e);
  if (!w.any) return std::nullopt;
  if (auto a = after(e.looked_aside, wrote_sides(e),
                     {Step::sides, "let the eyes follow to the sides, up and down.",
                      "What is the same everywhere and what is not have different causes."},
                     Step::write_sides, "write how the eyes move, and whether it is comitant.")) {
    return a;
  }
  if (w.high) {
    if (auto a = after(tilted(e), wrote_tilt(e),
                       {Step::tilt, "tilt the head to either shoulder, and alternate.",
                        "The third of three steps that tell which muscle it is."},
                       Step::write_tilt, "write the size with the head tilted, each way.")) {
      return a;
    }
  }
  if (w.tropia) return std::nullopt;
  if (auto a = after(e.approaches.size() >= kApproaches, has_note(e, FindingTest::near_point),
                     {Step::near_point, "bring the target slowly to the nose, more than once.",
                      "A near point that moves away on repeating is one that tires."},
                     Step::write_near_point, "write the near point, break and recovery.")) {
    return a;
  }
  if (w.far_pd && w.near_pd && *w.near_pd - *w.far_pd >= kDifferencePd) {
    if (auto a = after(tried_lenses(e), has_note(e, FindingTest::ac_a),
                       {Step::lenses, "alternate at near through +1.00, then through −1.00.",
                        "It tells how much of the deviation hangs on accommodation."},
                       Step::write_lenses, "write the AC/A ratio.")) {
      return a;
    }
  }
  if (w.phoria) {
    return after(took_to_break(e), has_note(e, FindingTest::reserves),
                 {Step::reserves, "step the bar up with both eyes open until it is double.",
                  "A deviation counts by what is left to hold it with."},
                 Step::write_reserves, "write the reserve: blur, break, recovery, which base.");
  }
  return after(tried_four_dioptres(e), has_note(e, FindingTest::four_dioptre),
               {Step::four_dioptres, "4 base out before each eye in turn, both eyes open.",
                "A very small squint may move under no cover at all."},
               Step::write_four_dioptres, "write what each eye did behind 4 base out.");
}

}  // namespace redress::examiners
