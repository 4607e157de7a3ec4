// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The moments and movements that show a finding, added to a mark's evidence: what the covers and
// prisms of this examination showed, whether it was written or not.
#pragma once

#include "sim/scoring/items.hpp"

namespace redress::scoring {

/// Latent or manifest: whether an eye moved as the other was covered, and as it was freed.
void cite_class(const Examined& x, const Place& place, Mark& mark);
/// Size and direction across or in height: by the prism that left least, else by the movement with
/// which an eye took up fixation.
void cite_size(const Examined& x, const Place& place, bool by_prism, bool vertical, Mark& mark);
/// Covers with the eyes to the sides; false if the eyes were never there.
bool cite_sides(const Examined& x, Mark& mark);

}  // namespace redress::scoring
