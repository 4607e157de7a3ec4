// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The procedures of an examination, done by the engine on the calm patient: reserves by prism bar,
// near point, AC/A, four dioptres base out, recovery.
#pragma once

#include "sim/truth/dissociated.hpp"
#include "sim/truth/truth.hpp"

namespace redress::truth {

/// Prism bar before the left eye, stepped up until single vision breaks, then down until it is
/// regained. Steps 1 to 45 (common practice, no source for the steps). Solved where it can be
/// (sim/truth/solved.hpp), else run.
ReservesAt calc_reserves(const ExaminationSetup& setup, double distance_m);
ReservesAt run_reserves(const ExaminationSetup& setup, double distance_m);

/// The target is brought to the nose at 1 cm/s and taken back; from the bridge (head origin).
struct NearPoint {
  std::optional<double> break_cm;
  std::optional<double> recovery_cm;
};
NearPoint calc_near_point(const ExaminationSetup& setup);
/// From a farther start on, which is where the approach begins for the patient.
NearPoint run_near_point(const ExaminationSetup& setup, double from_m);

/// Change of the deviation at 40 cm from -1.00 to +1.00 D, per dioptre.
double calc_ac_a_gradient(const ExaminationSetup& setup);

/// How far an eye with its fellow covered falls short of a target 30 degrees to either side or 25
/// up or down, degrees.
struct Shortfall {
  double in = 0.0;
  double out = 0.0;
  double up = 0.0;
  double down = 0.0;
};
/// Full ductions vary by less (judgement; practice: limits of 5 degrees and more are told).
inline constexpr double kShortDeg = 5.0;
PerEye<Shortfall> calc_shortfall(const ExaminationSetup& setup);

/// Four prism dioptres base out before this eye.
FourDioptreResponse calc_four_dioptre(const ExaminationSetup& setup, Eye eye);

/// Time from the eye being free to 95 % of the recovery, after it was covered for 10 s; none where
/// the eyes do not become straight within 10 s.
std::optional<double> calc_recovery_ms(const ExaminationSetup& setup, double distance_m);
std::optional<double> calc_recovery_ms(const ExaminationSetup& setup, const Opening& opening);

}  // namespace redress::truth
