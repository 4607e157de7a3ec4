// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The steps of sim/patient/control.hpp; called only while it is in force.
#pragma once

#include "sim/patient/parameters.hpp"
#include "sim/patient/retinas.hpp"
#include "sim/patient/state.hpp"

namespace redress::patient {

void step_control(const Parameters& parameters, const Retinas& retinas, const Chance& chance,
                  State& state);

/// Draws what belongs to the session; a fused patient has its tenacious tonus already.
void begin_control(const Parameters& parameters, const Chance& chance, State& state);

}  // namespace redress::patient
