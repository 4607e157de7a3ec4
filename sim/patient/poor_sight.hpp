// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// How an eye that sees poorly holds itself: unsteady fixation of an amblyopic eye while it fixes,
// and the slow drift of a blind one, of a few degrees whatever its fellow does. All of it scales
// with the noise.
//
// Unsteadiness: a slow wander of both eyes, normal with the standard deviation of the parameters in
// each meridian, held for about a quarter of a second (judgement).
// Drift of a blind eye: 2 degrees rms within 5 either way, over seconds (3 to 5: judgement).
#pragma once

#include "sim/patient/sight.hpp"

namespace redress::patient {

/// An eye with this acuity or worse (hand movements: 2.3, common practice, no source) sees no
/// target, however large: it never takes up fixation, and drifts.
inline constexpr double kNoFormLogmar = 2.3;

void step_poor_sight(const Parameters& parameters, const Sight& sight, const Chance& chance,
                     State& state);

}  // namespace redress::patient
