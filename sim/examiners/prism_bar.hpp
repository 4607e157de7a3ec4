// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Prism and alternating cover, up a bar to reversal, the mid-point taken. Prism dioptres.
#pragma once

#include <optional>
#include <vector>

#include "sim/examiners/consulting.hpp"
#include "sim/examiners/cover_test.hpp"
#include "sim/examiners/habits.hpp"

namespace redress::examiners {

/// Labels on the usual bars (clinical tables give them from memory).
inline constexpr double kHorizontalBar[] = {1,  2,  4,  6,  8,  10, 12, 14,
                                            16, 18, 20, 25, 30, 35, 40, 45};
inline constexpr double kVerticalBar[] = {1, 2, 3, 4, 5, 6, 8, 10, 12, 14, 16, 18, 20, 25};

/// What a prism measurement came to: + base out / for a higher right eye.
struct PrismReading {
  std::optional<double> horizontal_pd;
  std::optional<double> vertical_pd;
};

/// Measures what the alternating cover `showed`, with prism before `eye`; above the bar's end also
/// before the other. Begins and ends with both eyes open and no prism.
PrismReading measure_with_prisms(Consulting& room, const Manner& manner, Shown showed, Eye eye,
                                 bool wrong_base_first);

}  // namespace redress::examiners
