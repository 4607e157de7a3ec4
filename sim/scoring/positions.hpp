// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Where the eyes were turned and the head tilted, and how far either eye turns: parts of
// sim/scoring/called_for.hpp. Sizes are marked as estimates by eye, with either eye fixing unless
// the entry says which.
#pragma once

#include "sim/scoring/examined.hpp"
#include "sim/scoring/items.hpp"

namespace redress::scoring {

/// A transfer of the cover with the eyes turned so against the head, within 10 degrees; null: none.
const findings::CoverSpan* find_transfer(const findings::Evidence& evidence, double horizontal_deg,
                                         double vertical_deg, double roll_deg);

double share_of_gazes(const Examined& x, Mark& mark);
double share_of_tilts(const Examined& x, Mark& mark);
double share_of_movements(const Examined& x, Mark& mark);

}  // namespace redress::scoring
