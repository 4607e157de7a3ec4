// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Saccades and the slow fixation loop: what moves both eyes together.
//
// Decision: a LATER race, 1/latency Gaussian (Carpenter & Williams 1995). Waveform (Dai et al.
// 2016, IEEE SPMB, doi 10.1109/SPMB.2016.7846860):
//   s(t) = c f(eta t/c) - c f((eta t - A)/c),  f(x) = x + e^(-2x)/4 for x >= 0, e^(2x)/4 below
//   so that the peak speed is eta (1 - e^(-A/c)).
// Departure: the waveform has infinite tails; it is cut 1.5 c/eta before and 3 c/eta after, and its
// increments are scaled so that they add up to the amplitude.
#pragma once

#include "sim/patient/sight.hpp"

namespace redress::patient {

/// Position along a saccade of this amplitude, degrees; `from_start_s` from the waveform's origin.
double calc_saccade_waveform(double from_start_s, double amplitude_deg, double eta_deg_s,
                             double c_deg);

/// One tick of the version command towards removing `error`; `gaze_held` false while no image
/// guides the eyes (a blink, both eyes covered).
void step_saccade(const Parameters& parameters, const Chance& chance, Angles error, bool guided,
                  State& state);

}  // namespace redress::patient
