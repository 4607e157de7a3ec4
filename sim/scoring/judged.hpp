// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// One entry of the card by the measures of the marks, whether or not anything done could have shown
// it: for whoever shows what was written beside what is there. No tolerance stands anywhere else.
#pragma once

#include <optional>

#include "sim/scoring/examined.hpp"

namespace redress::scoring {

/// The place that an entry of covers or prism speaks of: one that is called for, or made for it.
Place find_place_of(const Examined& x, const findings::WrittenFinding& entry);

/// An entry as a size read off the eyes there.
Reading read_entry(const Place& place, const findings::WrittenFinding& entry, bool by_eye);

struct JudgedDeviation {
  truth::Condition there;  ///< as tested, the eye fixing that the prism leaves
  double share = 0.0;      ///< the least of class (D1), direction and size (D2, D3) and eye (D4)
};
JudgedDeviation judge_deviation(const Examined& x, const findings::WrittenFinding& entry);

/// D5.
struct JudgedRecovery {
  std::optional<double> rule_ms;  ///< of the calm patient; none: not regained
  RecoveryGrade rule = RecoveryGrade::none;
  std::optional<RecoveryGrade> today;  ///< in this examination, if any cover showed it
  double share = 0.0;
};
/// `written` at this place.
JudgedRecovery judge_recovery(const Examined& x, const Place& place, RecoveryGrade written);

/// E: 1 right, 0 not (a control score one off: 0.5), against what this patient did in this
/// examination or, where it was not done, does as a rule. Nothing for an entry without a value, or
/// of a test that is not marked so.
std::optional<double> judge_test(const Examined& x, const Finding& finding);
/// The part of it that reserves are.
bool is_reserve_right(const Examined& x, const Finding& finding);

}  // namespace redress::scoring
