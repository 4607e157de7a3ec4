// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// What was written beside what was there, row by row, with the tolerances of the rubric.
#pragma once

#include <vector>

#include "render/screens/debrief/debrief_model.hpp"
#include "sim/findings/record_card.hpp"
#include "sim/room/examination.hpp"
#include "sim/scoring/score.hpp"
#include "sim/truth/truth.hpp"

namespace redress::screens::debrief {

/// `truth` with reserves and near point where the card has such an entry.
std::vector<ComparedRow> compare(const Case& the_case, const ExaminationSetup& setup,
                                 const truth::Truth& truth, const findings::RecordCard& card,
                                 const scoring::ScoreSheet& sheet);

/// What a card would say of this condition: class, direction, size, eye; nothing seen below the
/// limits of the rubric. `by_prism`: the label that neutralises.
Finding describe(const truth::Condition& condition, bool by_prism);

}  // namespace redress::screens::debrief
