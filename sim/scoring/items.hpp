// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The items of the rubric, one function each. They give shares of the marks: 0 none, 0.5 half,
// 1 full.
#pragma once

#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "sim/scoring/examined.hpp"
#include "sim/scoring/score.hpp"

namespace redress::scoring {

struct Mark {
  double share = 0.0;
  bool removed = false;  ///< the case does not need it
  std::string why;
  std::vector<MarkEvidence> evidence;
};

inline Mark removed(std::string why) { return {0.0, true, std::move(why), {}}; }

Mark mark_history(const Examined& x);     // A1
Mark mark_correction(const Examined& x);  // A2
Mark mark_target(const Examined& x);      // A3
Mark mark_looking(const Examined& x);     // A4

Mark mark_covers(const Examined& x);      // B1
Mark mark_cover_time(const Examined& x);  // B2
Mark mark_open_time(const Examined& x);   // B3
Mark mark_own_view(const Examined& x);    // B4

Mark mark_dissociation(const Examined& x);  // C1
Mark mark_base(const Examined& x);          // C2
Mark mark_bracket(const Examined& x);       // C3
Mark mark_handling(const Examined& x);      // C4
Mark mark_repeats(const Examined& x);       // C5

Mark mark_class(const Examined& x);      // D1
Mark mark_direction(const Examined& x);  // D2
Mark mark_size(const Examined& x);       // D3
Mark mark_eye(const Examined& x);        // D4
Mark mark_recovery(const Examined& x);   // D5

Mark mark_further_tests(const Examined& x);  // E
Mark mark_record(const Examined& x);         // F

Mark mark_impression(const Examined& x);  // G1
Mark mark_plan(const Examined& x);        // G2
Mark mark_urgency(const Examined& x);     // G3

// ------------------------------------------------------------------- what several of them share

/// How soon somebody is to act, as the record says it.
struct WrittenUrgency {
  Tick at_ms = 0;
  Urgency step = Urgency::routine;
  bool chosen = true;  ///< false: the plan's emergency department says it, nothing else does
};
/// As chosen last, on a plan or an impression; else the same day where the plan's patient goes to
/// the emergency department.
std::optional<WrittenUrgency> find_urgency(const Examined& x);
/// "same day", "urgent", "soon", "routine"
const char* name_of(Urgency step);
const findings::WrittenFinding* find_last(const Examined& x, FindingTest test);
/// Steps between what is written and what is expected: + too slow.
int steps_too_slow(Urgency written, Urgency expected);
/// Exercises, prisms or months of waiting where a red flag calls for somebody now.
bool is_harmful(const Examined& x);
/// Some class was found on evidence, or a question of the history was asked.
bool may_reason(const Examined& x);
/// Both eyes covered, one at a time, at one distance at least.
bool did_cover_uncover(const Examined& x);
/// Covers of one eye by itself, no prism. A place where only one eye was covered so was not tested
/// and has none, unless `one_eye_too`.
std::vector<const findings::CoverSpan*> unilateral_covers(const Place& place,
                                                          bool one_eye_too = false);
/// How long a cover has to be for 90 % of this patient's latent deviation: 2 to 5 s, less what a
/// hand takes.
double calc_wanted_cover_ms(const Examined& x);
/// The smallest detail that the worse eye made out during a cover, logMAR; of an eye that sees no
/// form, whatever its size, nothing is asked, and the better eye's stands for both.
double calc_worse_threshold(const findings::CoverSpan& span);
/// How well the targets of the covers at a place were chosen: 1 a detail one or two lines larger
/// than the worse eye resolves, 0 no use.
double share_of_targets(const Examined& x, const Place& place);
/// Before which eye a prism belongs, where it matters by more than 2: of a deviation that changes
/// with the eye that fixes, the one behind which it is the smaller (primary), so that the other,
/// whose muscles are sound, fixes, whichever the patient prefers. With the cover at once: always
/// the one that deviates (practice, A11).
std::optional<Eye> find_prism_eye(const Examined& x, const Place& place, bool with_cover);
/// The first of the covers, of either eye, long enough to show something, without any glasses.
const findings::CoverSpan* find_cover_without(const Examined& x);

}  // namespace redress::scoring
