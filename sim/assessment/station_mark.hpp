// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The marks of a station: the score sheet with the station's own weights. A section whose items the
// case does not need gives its weight to the others, as in the rubric.
#pragma once

#include <cstdint>
#include <optional>

#include "sim/assessment/circuit.hpp"
#include "sim/scoring/score.hpp"

namespace redress::assessment {

enum class Section : std::uint8_t { findings, technique, reasoning, conclusion };

Section section_of(scoring::Item item);

/// Without weights the sheet as it is. Caps are applied again to the new sum.
scoring::ScoreSheet reweigh(scoring::ScoreSheet sheet, const std::optional<Weights>& weights);

}  // namespace redress::assessment
