// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The step of sim/patient/behaviour.hpp; called only while it is in force.
#pragma once

#include "sim/patient/parameters.hpp"
#include "sim/patient/retinas.hpp"
#include "sim/patient/state.hpp"

namespace redress::patient {

void step_behaviour(const Parameters& parameters, const Retinas& retinas, const Chance& chance,
                    State& state);

/// Nothing has happened yet.
void begin_behaviour(const Parameters& parameters, State& state);

}  // namespace redress::patient
