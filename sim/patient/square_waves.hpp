// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Square-wave jerks: a small saccade away from the target, and about 200 ms later one back. Healthy
// people have fewer than 9 a minute, of about 0.5 degrees (Leigh & Zee, from memory).
#pragma once

#include "sim/patient/parameters.hpp"
#include "sim/patient/unsteady.hpp"

namespace redress::patient {

void begin_square_waves(const Unsteadiness& parameters, const Chance& chance, UnsteadyState& state);
void step_square_waves(const Unsteadiness& parameters, const Chance& chance, UnsteadyState& state);

}  // namespace redress::patient
