// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// All that sim/patient/unsteady.hpp holds, one tick; called only while it is in force.
#pragma once

#include "sim/patient/sight.hpp"

namespace redress::patient {

void step_unsteady(const Parameters& parameters, const Retinas& retinas, const Sight& sight,
                   const Chance& chance, State& state);

/// The state of a patient that has been looking at these retinas for as long as it takes.
void open_unsteady(const Parameters& parameters, const Retinas& retinas, State& state);

/// Draws the first events.
void begin_unsteady(const Parameters& parameters, const Chance& chance, State& state);

}  // namespace redress::patient
