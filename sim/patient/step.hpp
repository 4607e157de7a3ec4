// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// One millisecond of a patient: a pure function of parameters, retinas, chance and state.
//
// From the state at tick t to the state at t + 1:
//
// 1. sight: errors and disparity of the two images; what is seen and made out
// 2. fusion: delayed disparity -> demand, held or released -> fusional vergence (x_f, x_s, x_v)
// 3. accommodation and pupils
// 4. pursuit and the head's turn: version follows what moves smoothly
// 5. fixation: which eye drives, what is suppressed, what draws attention
// 6. version: drift, blink and attention; then saccade or slow loop on the weighted error
// 7. eyes: V = resting + AC/A A_b + x_f + x_s + wander; right = C - V/2, left = C + V/2 (Hering:
// both eyes get the same version and equal and opposite vergence); one eye that guides alone is
// kept still by version
// 8. muscles, in a patient in whom one is not healthy: each eye goes where its own take it
// 9. lids, torsion (counter-roll)
#pragma once

#include "sim/patient/parameters.hpp"
#include "sim/patient/retinas.hpp"
#include "sim/patient/sight.hpp"
#include "sim/patient/state.hpp"

namespace redress::patient {

/// The state of a patient that has been looking at these retinas for as long as it takes, by
/// arithmetic; a few seconds of steps settle what arithmetic leaves out.
State opening_state(const Parameters& parameters, const Retinas& retinas);

/// Restarts the counts and draws the first events; called when the examination begins.
void begin(const Parameters& parameters, const Chance& chance, State& state);

void step(const Parameters& parameters, const Retinas& retinas, const Chance& chance, State& state);

/// What the patient would report of the picture it has now.
struct Percept {
  bool is_double = false;  ///< two images are noticed
  bool clear = true;
  PerEye<bool> monocular{};     ///< this eye alone makes two images
  double tilt_deg = 0.0;        ///< one image against the other; excyclotorsion +
  bool jumped = false;          ///< the target moved by itself within the last two seconds
  double separation_deg = 0.0;  ///< horizontal; > 0 uncrossed (eso)
  double vertical_deg = 0.0;    ///< > 0: the right eye's image is lower
};
Percept calc_percept(const Parameters& parameters, const Retinas& retinas, const State& state);

}  // namespace redress::patient
