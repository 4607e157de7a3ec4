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

/// Steps of a prism bar with both eyes open, one base, up to where single vision was lost and down
/// to where it came back. Labels.
struct ReserveRun {
  Tick at_ms = 0;
  findings::Setting setting;
  std::optional<double> blur_pd;  ///< where the patient, asked, first said that it was blurred
  std::optional<double> break_pd;
  std::optional<double> recovery_pd;
  double reached_pd = 0.0;
};
/// The longest run with this base ("in", "out", "up", "down"; up and down before the right eye).
std::optional<ReserveRun> find_reserve_run(const findings::Evidence& evidence,
                                           std::string_view base);

/// Whether an entry of one of these tests could have been shown by what was done.
bool has_further_evidence(const Examined& x, const Finding& finding);

/// Adds what was done, with its time, and what is missing. 0 not done, 0.5 done, 1 read right.
double share_of_test(CalledTest test, const Examined& x, Mark& mark);

}  // namespace redress::scoring
