// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Tests beside cover and prism, part E of the rubric: near point, reserves, AC/A, four dioptres
// base out, control score, gazes, head tilt, corneal reflexes. What acts could have shown, and
// whether what was written is right. Tolerances (practice, B3): AC/A max(1, 2.8 / change of lens);
// near point 2 cm or 25 %; reserves one step of the bar; control score exactly, one off is half.
#pragma once

#include <optional>
#include <string_view>
#include <vector>

#include "sim/scoring/examined.hpp"
#include "sim/scoring/items.hpp"

namespace redress::scoring {

/// Those that the case names; if it names none the four-dioptre test where acuity is unequal or an
/// eye is suppressed, and the deviation small.
std::vector<CalledTest> find_called_tests(const Examined& x);

/// A control score as written, on what was seen before the first cover.
struct JudgedControl {
  const findings::WrittenFinding* entry = nullptr;
  int shown = 0;       ///< by this patient in this examination
  double share = 0.0;  ///< 1 as shown or as a rule, 0.5 one off, else 0
};
/// Nothing where it was not written, not watched for, or there is nothing to be controlled.
std::optional<JudgedControl> judge_control(const Examined& x, bool near);

/// Whether an entry of one of these tests could have been shown by what was done.
bool has_further_evidence(const Examined& x, const Finding& finding);

/// Adds what was done, with its time, and what is missing. 0 not done, 0.5 done, 1 read right.
double share_of_test(CalledTest test, const Examined& x, Mark& mark);

}  // namespace redress::scoring
