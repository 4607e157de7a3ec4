// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Accommodation, and through it accommodative vergence.
//
// goal = clamp(tonic + slope x detail x (demand - tonic), 0, amplitude), seen 350 ms late (Campbell
// & Westheimer 1960, from memory); first order, 0.28 s up and 0.22 s down; at most 10 D/s up, and
// down at most 1.12 D/s and 1.39 more for each dioptre (Bharadwaj & Schor). The part that blur
// drives (A_b) drives accommodative vergence. Fusional vergence adds its own part (CA/C); blur
// takes back all of that but 1 - slope, so that fusing does not change the deviation.
//
// In a spasm of the near reflex accommodation stays up, and with it convergence (by this patient's
// AC/A) and the pupils (2.5 mm or less at distance: report of 1976, as the design's practice page
// found it). What the lens of the eye does then is too much for the distance, and blurs.
#pragma once

#include "sim/patient/sight.hpp"

namespace redress::patient {

/// calc_accommodation_goal, with a spasm if there is one.
double calc_driven_goal(const Accommodation& accommodation, double demand_d, double detail);

/// A spasm comes and goes within a minute (practice: an esotropia of 0 to 40): the accommodation of
/// this moment. With the noise off it is all there.
Accommodation calc_accommodation_now(const Accommodation& accommodation, const Chance& chance,
                                     std::int64_t tick);

void step_accommodation(const Accommodation& now, const Retinas& retinas, const Sight& sight,
                        State& state);

/// The response that a blur-driven part and a fusional vergence make together, dioptres; `detail`
/// 0 ... 1 to accommodate on.
double calc_accommodation_response(const Accommodation& accommodation, double blur_driven_d,
                                   double fusional_deg, double detail);

}  // namespace redress::patient
