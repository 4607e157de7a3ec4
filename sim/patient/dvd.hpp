// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Dissociated vertical deviation: an eye that does not see rises and extorts.
//   dD/dt = (D_max (1 - seen) - D) / tau,  tau 0.67 +- 0.14 s (van Rijn, Simonsz & ten Tusscher
//   1997, five subjects, coils)
// It is the eye's own: its fellow does not move (no matching hypotropia), and it comes down slowly
// when it sees again (Guyton et al. 1998; Brodsky 1999). Extorsion is half of the rise (judgement:
// no ratio is published); its fellow intorts by half as much again, judgement as well.
#pragma once

#include "sim/patient/retinas.hpp"
#include "sim/patient/unsteady.hpp"

namespace redress::patient {

inline constexpr double kExtorsionOfRise = 0.5;

void step_dvd(const Unsteadiness& parameters, const Retinas& retinas, UnsteadyState& state);

/// Where the eyes are after these retinas have stood for good.
void settle_dvd(const Unsteadiness& parameters, const Retinas& retinas, UnsteadyState& state);

}  // namespace redress::patient
