// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Pupils (light, near, age, hippus) and lids (blink, down gaze).
#pragma once

#include "sim/patient/sight.hpp"

namespace redress::patient {

/// Goal of both pupils, mm: photopic 3.0 to 4.7 (Sanchis-Gimeno 2012), smaller with age, 0.18 mm
/// per dioptre at near (Bernal-Molina 2014); 0.45 mm wider with one eye covered (from memory).
double calc_pupil_goal(double age_years, double response_d, const PerEye<double>& light);

/// What this patient's pupils make of a common goal, mm.
PerEye<double> apply_faults(const PupilFaults& faults, PerEye<double> goal_mm);

/// The same in a spasm of the near reflex: 2.5 mm at the most.
double calc_spasm_pupil(const Accommodation& accommodation, double goal_mm);

/// `now`: the accommodation of this moment.
void step_pupils(const Parameters& parameters, const Accommodation& now, const Retinas& retinas,
                 State& state);

/// Open fraction of the lids: falls by 0.85 % a degree of down gaze (Read et al. 2006: 9.7 mm
/// to 6.4 mm at 40 degrees down), and with a blink.
double calc_lid_opening(const State& state);

/// Each eye's own opening, where the lids are not alike.
void place_lids(const Lids& lids, State& state);

}  // namespace redress::patient
