// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// What is never still in a living eye: drift, slow wander of the resting vergence, blinks,
// attention that wanders and comes back when the patient is told to look. All of it scales with the
// noise and is absent at noise 0.
#pragma once

#include "sim/patient/sight.hpp"

namespace redress::patient {

void step_instability(const Parameters& parameters, const Retinas& retinas, const Sight& sight,
                      const Chance& chance, State& state);

/// Draws the first blink and the first lapse of attention.
void begin_instability(const Parameters& parameters, const Chance& chance, State& state);

}  // namespace redress::patient
