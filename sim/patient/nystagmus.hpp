// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Latent and infantile nystagmus: conjugate and horizontal.
//
// Latent (fusion maldevelopment): while one eye sees and its fellow does not,
//   dC/dt = (L n - p) / tau: n towards the nose of the viewing eye, p gaze past the target,
//   L 1 to 5 degrees, tau 0.4 to 0.6 s (Gradstein et al. 2004): slow phases of decreasing speed
//   (Dell'Osso, Schmidt & Daroff 1979). The quick phases are ordinary saccades, on the ordinary
//   main sequence (Erchul 1998). Under a translucent cover it is weaker (amplitude 0.5 to 0.8 of
//   that under an opaque one, from memory), and weaker still where the fellow eye sees but is
//   suppressed; with both eyes in use there is none.
//
// Infantile: x, the turn of both eyes, grows by its own speed, dx/dt = k x, from a little away from
//   the target until a saccade resets it: 2 to 5 beats a second, the slow phase towards the null
//   (Abadi & Bjerre 2002). Its amplitude grows with the distance of gaze from the null; how, is
//   judgement: linear up to 20 degrees. Both eyes roll with it, in phase, the tops towards the
//   side to which they turn: by 8 to 94 % of the horizontal, median 33 (search coils, 13 patients:
//   "The torsional component of horizontal congenital nystagmus", J Neuroophthalmol 2002;22:22, the
//   abstract). Departure: no change of waveform with convergence.
#pragma once

#include "sim/patient/retinas.hpp"
#include "sim/patient/sight.hpp"

namespace redress::patient {

/// Drift of the version in this tick, degrees.
double step_latent_nystagmus(const Unsteadiness& parameters, const Retinas& retinas,
                             const Sight& sight, const FixationState& fixation,
                             UnsteadyState& state);

/// Changes state.infantile_deg. `gaze_deg`: the version, where the eyes would look without it.
/// `vergence_deg`: of the eyes; near, there is less of it.
void step_infantile_nystagmus(const Unsteadiness& parameters, double gaze_deg, double vergence_deg,
                              UnsteadyState& state);

}  // namespace redress::patient
