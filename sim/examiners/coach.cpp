// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/examiners/coach.hpp"

#include <algorithm>
#include <optional>

#include "sim/basics/elementary.hpp"
#include "sim/examiners/coach_further.hpp"

namespace redress::examiners {

using findings::CoverSpan;
using findings::Evidence;
using findings::PrismStep;
using findings::Setting;
using findings::WrittenFinding;

namespace {

constexpr Tick kLookMs = 3000;        // rubric A4
constexpr Tick kLongEnoughMs = 2000;  // rubric B2
constexpr int kCoversOfEach = 2;
constexpr int kTransfers = 6;  // rubric C1
constexpr int kTransfersBehind = 2;

/// A distance of the routine: rooms of 3 m and more serve as 6 m, within arm's reach is near.
struct Place {
  const char* name;
  double least_m;
  double most_m;
  [[nodiscard]] bool holds(double distance_m) const {
    return distance_m >= least_m && distance_m <= most_m;
  }
};
constexpr Place kPlaces[] = {{"6 m", 2.5, 9.0}, {"near", 0.25, 0.55}};

struct Done {
  PerEye<int> alone;  ///< covers of one eye by itself, long enough
  bool last_was_short = false;
  int transfers = 0;   ///< the longest run
  bool prism = false;  ///< alternated behind one
  int labels = 0;      ///< prisms of different power that it was alternated behind
  const WrittenFinding* covers_written = nullptr;
  bool size_written = false;
};

// The step that stands now has no end yet.
int count_transfers(const Evidence& e, const PrismStep& step) {
  const bool open = step.to_ms <= step.from_ms;
  int transfers = 0;
  for (const CoverSpan& span : e.covers) {
    const bool within = span.from_ms >= step.from_ms && (open || span.from_ms < step.to_ms);
    if (within && span.transfer_in) ++transfers;
  }
  return transfers;
}

Done find_done(const Evidence& e, const Place& place) {
  Done done;
  int run = 0;
  for (const CoverSpan& span : e.covers) {
    if (!place.holds(span.setting.distance_m)) continue;
    run = span.transfer_in ? run + 1 : 0;
    if (!span.behind_prism) done.transfers = std::max(done.transfers, run);
    if (!span.unilateral() || span.behind_prism) continue;
    done.last_was_short = span.duration_ms() < kLongEnoughMs;
    if (!done.last_was_short) ++done.alone[span.eye];
  }
  double last_label = 0.0;
  for (const PrismStep& step : e.prisms) {
    if (!place.holds(step.setting.distance_m) || count_transfers(e, step) < kTransfersBehind) {
      continue;
    }
    done.prism = true;
    const double label = elementary::hypotenuse(step.horizontal_pd, step.vertical_pd);
    if (label != last_label) ++done.labels;
    last_label = label;
  }
  for (const WrittenFinding& note : e.notes) {
    if (!note.finding.distance_m || !place.holds(*note.finding.distance_m)) continue;
    const bool measured = note.finding.method == SizeMethod::measured ||
                          note.finding.test == FindingTest::prism_cover;
    if (measured) {
      done.size_written = true;
    } else if (note.finding.test == FindingTest::cover_test) {
      done.covers_written = &note;
    }
  }
  return done;
}

bool has_note(const Evidence& e, FindingTest test) {
  return std::any_of(e.notes.begin(), e.notes.end(),
                     [test](const WrittenFinding& n) { return n.finding.test == test; });
}

bool holds_prism(const RoomState& room) {
  for (const Eye eye : kBothEyes) {
    for (const auto& slot : room.prisms[eye].slots) {
      if (slot.filled) return true;
    }
  }
  return false;
}

std::optional<Advice> advise_before(const Evidence& e) {
  if (e.questions.size() < 2) {
    return Advice{Step::ask, "ask what the trouble is, since when, and whether it is double.",
                  "The story chooses the tests: which distance, which correction, how soon."};
  }
  if (!e.first_cover_ms && !e.instructed_ms) {
    return Advice{Step::tell, "say where to look, and to keep it clear.",
                  "Eyes without a detail to look at drift, and focus where they like."};
  }
  if (!e.first_cover_ms && e.looked_ms < kLookMs) {
    return Advice{Step::look, "look at both eyes for 3 s before you cover anything.",
                  "Once covered, they may never be seen again as they were."};
  }
  return std::nullopt;
}

Advice advise_one_eye(const Done& done) {
  if (done.last_was_short) {
    return {Step::longer, "the same again, held for 3 s at the least.",
            "A latent deviation takes seconds to come out under the cover."};
  }
  const Eye eye = done.alone.right <= done.alone.left ? Eye::right : Eye::left;
  const std::string covered = name_of(eye);
  const std::string other = name_of(fellow(eye));
  return {Step::one_eye,
          "cover the " + covered + " eye, watch the " + other + "; uncover it, watch the " +
              covered + ".",
          "It tells tropia from phoria. Alternating first would hide which it is."};
}

/// Once the covers are written: the size, unless nothing moved.
std::optional<Advice> advise_prism(const Done& done, const Place& place, const RoomState& room) {
  if (done.covers_written->finding.kind == FindingKind::none || done.size_written) {
    if (!holds_prism(room)) return std::nullopt;
    return Advice{Step::put_away, "take the prism away.", "The next test begins with bare eyes."};
  }
  if (!done.prism) {
    return Advice{Step::prism,
                  "a prism before one eye, apex the way it was out; alternate behind it.",
                  "When nothing moves any more, the prism is as large as the deviation."};
  }
  if (done.labels < 2) {
    return Advice{Step::neutralise,
                  "step by step until it moves the other way, then back to no movement.",
                  "Neutral is a range; only the step that reverses it shows where it ends."};
  }
  return Advice{Step::write_size,
                std::string("write the prism that neutralised it, ") + place.name + ".",
                "A number without distance, correction and base is worth little."};
}

std::optional<Advice> advise_at(const Evidence& e, const Place& place, const RoomState& room) {
  const Done done = find_done(e, place);
  const bool written = done.covers_written != nullptr;
  const bool nothing_moved = written && done.covers_written->finding.kind == FindingKind::none;
  if ((done.size_written || nothing_moved) && !holds_prism(room)) return std::nullopt;
  if (!place.holds(room.target.place.distance_m)) {
    return Advice{
        Step::go_to,
        place.most_m < 1.0 ? "the same at near, at the distance of work." : "show letters at 6 m.",
        "A deviation can be there at one distance only."};
  }
  if (std::min(done.alone.right, done.alone.left) < kCoversOfEach) return advise_one_eye(done);
  if (done.transfers < kTransfers) {
    return Advice{Step::alternate,
                  "alternate: straight from eye to eye, 1 to 2 s on each, eight times.",
                  "Both eyes never see together, so all there is comes out."};
  }
  if (!written) {
    return Advice{Step::write,
                  std::string("write what you saw, ") + place.name + ", also if nothing moved.",
                  "Which eye, which way, how much, how it came back; unwritten is not found."};
  }
  return advise_prism(done, place, room);
}

}  // namespace

Advice advise(const Evidence& so_far, const RoomState& room) {
  if (auto advice = advise_before(so_far)) return *advice;
  for (const Place& place : kPlaces) {
    if (auto advice = advise_at(so_far, place, room)) return *advice;
  }
  if (auto advice = advise_further(so_far)) return *advice;
  if (!has_note(so_far, FindingTest::impression)) {
    return {Step::impression, "write your impression.",
            "It rests on what you found, and on nothing else."};
  }
  if (!has_note(so_far, FindingTest::plan)) {
    return {Step::plan, "write the plan: what is done, what is advised, and how soon.",
            "How soon is what hurts somebody if it is wrong."};
  }
  return {Step::finish, "finish, and see the debrief.",
          "Nothing that follows from what you wrote is left."};
}

}  // namespace redress::examiners
