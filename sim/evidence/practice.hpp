// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// What the parts of the fifteen observations share.
#pragma once

#include <string>

#include "sim/evidence/rows.hpp"

namespace redress::evidence {

/// Mean movement inwards of the eye that takes over in the last transfers of an alternating cover,
/// prism dioptres, behind so much base in before the right eye; noise off.
double mean_refixation(const std::string& members, double base_in_pd, Tick hold_ms);

/// The seventh observation to the fifteenth.
void add_later_practice_rows(Group& group);
/// Of these the twelfth and thirteenth, and head posture.
void add_palsy_practice_rows(Group& group);

}  // namespace redress::evidence
