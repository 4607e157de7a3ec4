// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "sim/truth/criteria.hpp"

#include <algorithm>

#include "sim/basics/elementary.hpp"

namespace redress::truth {

int calc_control_score(double manifest_share, std::span<const std::optional<double>> recoveries_s) {
  constexpr double kAlways = 0.999;
  if (manifest_share >= kAlways) return 5;
  if (manifest_share > 0.5) return 4;
  if (manifest_share > 0.0) return 3;
  double worst = 0.0;
  for (const std::optional<double>& recovery : recoveries_s) {
    if (!recovery) return 2;
    worst = std::max(worst, *recovery);
  }
  if (worst > 5.0) return 2;
  return worst >= 1.0 ? 1 : 0;
}

InsufficiencyVerdict check_insufficiency(const InsufficiencySigns& s) {
  InsufficiencyVerdict verdict;
  verdict.near_greater = s.near_exo_pd - s.distance_exo_pd >= 4.0;
  verdict.far_near_point = s.near_point_break_cm >= 6.0;
  verdict.small_reserve =
      s.base_out_break_pd <= 15.0 || calc_sheard_prism(s.near_exo_pd, s.base_out_break_pd) > 0.0;
  verdict.symptoms = s.symptom_score >= 16.0;
  return verdict;
}

VerticalPattern find_vertical_pattern(double up_pd, double down_pd, double least_a_pd,
                                      double least_v_pd) {
  if (up_pd - down_pd >= least_a_pd) return VerticalPattern::a;
  if (down_pd - up_pd >= least_v_pd) return VerticalPattern::v;
  return VerticalPattern::none;
}

ExotropiaType find_exotropia_type(double distance_exo_pd, double near_exo_pd, double threshold_pd) {
  const double change = distance_exo_pd - near_exo_pd;
  if (change >= threshold_pd) return ExotropiaType::divergence_excess;
  if (change <= -threshold_pd) return ExotropiaType::convergence_insufficiency;
  return ExotropiaType::basic;
}

bool is_monofixation(double manifest_pd, double alternate_pd, double stereo_arcsec) {
  const double manifest = elementary::magnitude(manifest_pd);
  return manifest > 0.0 && manifest <= 8.0 && elementary::magnitude(alternate_pd) > manifest &&
         stereo_arcsec >= 67.0 && stereo_arcsec <= 3000.0;
}

std::optional<bool> is_real_change(double first_pd, double second_pd) {
  if (first_pd < 10.0) return std::nullopt;
  const double change = elementary::magnitude(second_pd - first_pd);
  return change >= (first_pd > 20.0 ? 12.0 : 6.0);
}

WeakMuscle find_weak_muscle(Eye higher, Eye worse_gaze, Eye worse_tilt) {
  const bool recti = worse_gaze == higher;  // recti act in abduction, obliques in adduction
  if (worse_gaze != worse_tilt) {
    return {higher, recti ? "inferior_rectus" : "superior_oblique"};
  }
  return {fellow(higher), recti ? "inferior_oblique" : "superior_rectus"};
}

}  // namespace redress::truth
