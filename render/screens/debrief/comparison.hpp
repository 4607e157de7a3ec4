// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// What was written beside what was there, row by row, judged by the measures of the marks
// (sim/scoring/judged.hpp).
#pragma once

#include <vector>

#include "render/screens/debrief/debrief_model.hpp"
#include "sim/room/finding.hpp"
#include "sim/scoring/examined.hpp"
#include "sim/scoring/score.hpp"
#include "sim/truth/truth.hpp"

namespace redress::screens::debrief {

/// The truth of `examined` with reserves and near point where the card has such an entry.
std::vector<ComparedRow> compare(const scoring::Examined& examined,
                                 const scoring::ScoreSheet& sheet);

/// What a card would say of this condition: class, direction, size, eye; nothing seen below the
/// limits of the rubric. `by_prism`: the label that neutralises.
Finding describe(const truth::Condition& condition, bool by_prism);

}  // namespace redress::screens::debrief
