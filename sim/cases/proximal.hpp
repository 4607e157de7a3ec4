// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Tonic and proximal vergence, solved together from what a clinician measures, so that both typed
// deviations come out exactly:
//   tonic + AC/A . A(d) + k / d = demand(d) + deviation(d)   at 6 m and at 0.40 m
// Degrees of vergence, metres from the head origin, dioptres of accommodation at the cornea.
#pragma once

#include "sim/cases/case.hpp"
#include "sim/patient/parameters.hpp"

namespace redress {

/// Accommodation in front of a patient of that age when a clear target is at `distance_m`, best
/// correction on: 0.75 D + 0.85 times what the demand asks beyond that, within the amplitude.
double calc_accommodation_d(double distance_m, double age_years);

/// 18.5 - 0.30 age, at least 0.5 D (Hofstetter 1950, mean).
double calc_amplitude_d(double age_years);

/// The most that the eyes really do: the amplitude as it is measured, less the depth of focus that
/// is measured with it. What is left at 60 is that alone (Hamasaki, Ong & Marg 1956, Am J Optom
/// 33:3, from memory: none from 52 to 60 on); before 50 it is left as measured. A minus lens then
/// moves nothing at 60.
double calc_response_limit_d(double age_years);

/// AC/A is turned from prism dioptres into degrees at the near deviation, where it was measured.
patient::Tonus solve_tonus(const Case& the_case);

/// Proximal vergence at 40 cm that the case implies, in prism dioptres (1 = 0.5729387 degrees).
double proximal_pd_at_40cm(const Case& the_case);

}  // namespace redress
