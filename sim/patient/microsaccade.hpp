// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Fixational saccades, of both eyes alike: those that come by themselves, and those that take back
// what drift and the others did. One or two a second, 0.2 to 0.5 degrees (Martinez-Conde; Rolfs
// 2009), on the main sequence of the large ones (Zuber, Stark & Cook 1965).
//
// Those that come by themselves are a Poisson process of 1 a second, 0.2 to 0.4 degrees, mostly
// horizontal. None comes for a while after something before the eyes has changed (Engbert & Kliegl
// 2003, Vision Res 43:1035: the rate falls within a tenth of a second and is back after three;
// from memory), none while a saccade is prepared or has just ended, while the eyes follow something
// or take back a nystagmus. A clock that runs down: nothing is drawn at a tick.
#pragma once

#include <optional>

#include "sim/patient/parameters.hpp"
#include "sim/patient/state.hpp"

namespace redress::patient {

/// One tick of steady fixation; the step to make when one is due, degrees.
std::optional<Angles> step_microsaccades(const Parameters& parameters, const Chance& chance,
                                         State& state);

/// What is before the eyes has changed.
void hold_microsaccades(InstabilityState& state);

/// Draws the first.
void begin_microsaccades(const Chance& chance, InstabilityState& state);

}  // namespace redress::patient
