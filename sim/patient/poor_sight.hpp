// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// How an eye that sees poorly holds itself: unsteady fixation of an amblyopic eye while it fixes,
// and the slow drift of a blind one, of a few degrees whatever its fellow does. All of it scales
// with the noise.
//
// Unsteadiness: a slow wander of both eyes with the standard deviation of the parameters in each
// meridian. Five times a second a place is drawn, and the eye is on its way to it: it drifts at up
// to a few degrees a second (Ciuffreda, Kenyon & Stark 1980, up to 3; from memory), and does not
// tremble.
// Drift of a blind eye: about 2 degrees rms within 5 either way (3 to 5: judgement), a place every
// two seconds.
#pragma once

#include "sim/patient/sight.hpp"

namespace redress::patient {

/// An eye with this acuity or worse (hand movements: 2.3, common practice, no source) sees no
/// target, however large: it never takes up fixation, and drifts.
inline constexpr double kNoFormLogmar = 2.3;

void step_poor_sight(const Parameters& parameters, const Sight& sight, const Chance& chance,
                     State& state);

}  // namespace redress::patient
