// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Motor fusion: disparity vergence with limited reserves, release and recovery.
//
// A delayed copy of disparity and of the vergence already made gives the *demand* on fusion; the
// demand is remembered (m), followed quickly (x_f) and released slowly once the images are gone.
//   demand = disparity(t - 160 ms) + (x_f + x_s)(t - 160 ms)
//   held:      m = G clamp(demand) - x_s       released: dm/dt = -m / tau_release
//   dx_f/dt = (m - x_f) / tau, at most 40 deg/s
//   dx_s/dt = k_s (change - x_s) - x_s / tau_s: prism adaptation, of the *change* from the demand
//             that this patient is used to at this distance
// Form: delay-matched internal feedback (after Pobuda & Erkelens 1993; the fast and slow stores are
// those of Schor 1980). A plain leaky integrator with this delay either oscillates or leaks ten
// times slower than the covered eyes that Economides 2017 and Tatara 2025 recorded.
#pragma once

#include "sim/patient/sight.hpp"

namespace redress::patient {

/// Steady fixation disparity is 3 % of the demand: 6 minutes of arc for a phoria of 6.
inline constexpr double kFusionGain = 0.97;

/// Accommodation that a demand calls for, with `detail` 0 ... 1 to accommodate on; dioptres.
double calc_accommodation_goal(const Accommodation& accommodation, double demand_d, double detail);

/// Resting vergence at a distance less its accommodative part; degrees.
double calc_resting_vergence(const Tonus& tonus, double nearness_d);

/// Difference between the directions to a target straight ahead; degrees.
double calc_vergence_demand(double interpupillary_mm, double nearness_d);

/// All that follows from the target's distance.
AtThisDistance calc_at_distance(const Parameters& parameters, double nearness_d);

/// Whether a total demand can be held by an eye that is straight already (break) or that has to
/// come back (recovery).
bool within_break(const AtThisDistance& here, double demand_deg, double vertical_deg);
bool within_recovery(const AtThisDistance& here, double demand_deg, double vertical_deg);

void step_fusion(const Parameters& parameters, const Sight& sight, const Chance& chance,
                 State& state);

}  // namespace redress::patient
