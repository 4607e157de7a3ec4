// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Accommodation, and through it accommodative vergence.
//
// goal = clamp(tonic + slope x detail x (demand - tonic), 0, amplitude), seen 350 ms late (Campbell
// & Westheimer 1960, from memory); first order, 0.28 s up and 0.22 s down, at most 10 D/s. The part
// that blur drives (A_b) drives accommodative vergence. Fusional vergence adds its own part (CA/C);
// blur takes back all of that but 1 - slope, so that fusing does not change the deviation.
#pragma once

#include "sim/patient/sight.hpp"

namespace redress::patient {

void step_accommodation(const Parameters& parameters, const Retinas& retinas, const Sight& sight,
                        State& state);

/// The response that a blur-driven part and a fusional vergence make together, dioptres.
double calc_accommodation_response(const Accommodation& accommodation, double blur_driven_d,
                                   double fusional_deg);

}  // namespace redress::patient
