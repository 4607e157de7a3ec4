// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// What keeps the line of sight on a target while target or head move smoothly. Degrees, seconds.
//
//   x- perceived speed of the target w = d(direction of the image)/dt - (speed the head's turn
//      gives it), the image's own slip plus a copy of the eye's command (Robinson, Gordon & Gordon
//      1986), by the eye that fixes or, fused, the mean of both; an image that jumps has no speed
//      pursuit  p' = (gain w(t - d) - p) / tau,  |p| <= limit;  version' += p
//      head     version' -= speed of the head (vestibulo-ocular reflex helped by vision)
//
// d 0.10 s: pursuit begins 100 to 130 ms after a target does (Carl & Gellman 1987; Krauzlis 2004,
// from memory); gain 0.95 up to 30 deg/s and falling beyond, with age as well (Leigh & Zee, from
// memory); tau 0.07 s: steady after 0.3 s. The reflex has a gain near 1 in the light and a delay of
// 10 ms that is left out (Leigh & Zee, from memory). Both leave small errors, which the slow loop
// and saccades take up.
//
// A patient before whom nothing has moved of late has no pursuit in its state.
#pragma once

#include "sim/patient/parameters.hpp"
#include "sim/patient/retinas.hpp"
#include "sim/patient/sight.hpp"
#include "sim/patient/state.hpp"

namespace redress::patient {

/// Before step_fixation, which moves on the memory of where the images were.
void step_pursuit(const Parameters& parameters, const Retinas& retinas, const Sight& sight,
                  State& state);

}  // namespace redress::patient
