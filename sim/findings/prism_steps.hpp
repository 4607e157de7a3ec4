// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Prisms before the eyes as evidence: what their labels come to, how they are held, and what they
// leave to move.
#pragma once

#include "sim/findings/evidence.hpp"
#include "sim/room/room.hpp"

namespace redress::findings {

bool any_prism(const PrismState& prisms);

/// Labels, stacking, hold and effect of what stands before both eyes now; the rest of the step is
/// left as it is.
void describe_prisms(const RoomParameters& parameters, const RoomState& room, PrismStep& step);

/// When all covers and movements are known: what was left to move behind each set of prisms.
void measure_prisms(Evidence& evidence);

}  // namespace redress::findings
