// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Which eye drives the eyes, what is suppressed, and what draws attention.
//
// One eye sees: it fixes at once. Both see and are fused: both drive, each with its share. Both see
// and are not fused: one fixes, the other, in a patient who can, is suppressed (within 80 ms;
// Steinbach 1981); whether the preferred eye takes over is drawn once for each such spell.
#pragma once

#include "sim/patient/sight.hpp"

namespace redress::patient {

/// Updates fixing eye, suppression and attention.
void step_fixation(const Parameters& parameters, const Retinas& retinas, const Sight& sight,
                   const Chance& chance, State& state);

/// The error that the version (the movement common to both eyes) has to remove, degrees.
Angles calc_version_error(const Parameters& parameters, const Sight& sight, const State& state);

/// Both eyes are given the target and motor fusion holds them on it.
bool is_fused(const State& state, const Retinas& retinas, const Sight& sight);

}  // namespace redress::patient
