// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The examination in a few parts, as somebody would tell it: story, 6 m cover, 6 m alternating,
// 33 cm prism, near point, card.
#pragma once

#include <span>
#include <vector>

#include "render/screens/debrief/debrief_model.hpp"
#include "sim/findings/evidence.hpp"

namespace redress::screens::debrief {

/// Never more than this many; the shortest are joined to what was done beside them.
inline constexpr std::size_t kMostPhases = 8;

std::vector<Phase> find_phases(const findings::Evidence& evidence, std::span<const Act> acts);

}  // namespace redress::screens::debrief
