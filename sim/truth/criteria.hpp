// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Rules of analysis that turn findings into a judgement: plain arithmetic on clinical numbers, each
// with its source. Deviations in prism dioptres, eso +, right eye higher +. Thresholds on which the
// sources differ are parameters.
#pragma once

#include <cstdint>
#include <optional>
#include <span>
#include <string_view>

#include "sim/basics/eye.hpp"

namespace redress::truth {

/// Prism that Sheard's rule asks for: the reserve that opposes the phoria must be twice the phoria,
/// P = (2 D - R) / 3. Both above 0; 0 or less: none is needed.
constexpr double calc_sheard_prism(double phoria_pd, double opposing_reserve_pd) {
  return (2.0 * phoria_pd - opposing_reserve_pd) / 3.0;
}

/// Percival: the demand must lie in the middle third of the range; P = G/3 - 2 L/3 towards the
/// greater side (formula from memory). Never below 0.
constexpr double calc_percival_prism(double greater_pd, double lesser_pd) {
  const double prism = greater_pd / 3.0 - 2.0 * lesser_pd / 3.0;
  return prism > 0.0 ? prism : 0.0;
}

/// AC/A by the heterophoria method: interpupillary distance in cm + near distance in m times the
/// difference of the deviations.
constexpr double calc_ac_a_heterophoria(double interpupillary_cm, double near_m, double distance_pd,
                                        double near_pd) {
  return interpupillary_cm + near_m * (near_pd - distance_pd);
}
/// By the gradient: change of deviation for a change of lens. Plus lenses relax.
constexpr double calc_ac_a_gradient(double without_pd, double with_pd, double lens_d) {
  return (without_pd - with_pd) / lens_d;
}

/// Least amplitude of accommodation, dioptres (Hofstetter 1950).
constexpr double calc_least_amplitude_d(double age_years) { return 15.0 - 0.25 * age_years; }

/// In standard deviations from a mean such as Morgan's (1944).
constexpr double calc_z(double found, double mean, double sd) { return (found - mean) / sd; }

/// Office control score of an intermittent exotropia, 0 ... 5 (Mohney & Holmes 2006): the share of
/// 30 s before any dissociation in which it was manifest; if it never was, the worst of the
/// recoveries after 10 s covers, seconds (none: not regained). What the source leaves open counts
/// thus: half of the time 3, exactly 5 s or 1 s with the range between.
int calc_control_score(double manifest_share, std::span<const std::optional<double>> recoveries_s);

/// What the Convergence Insufficiency Treatment Trial looks for.
struct InsufficiencySigns {
  double distance_exo_pd = 0.0;  ///< exo as a positive number
  double near_exo_pd = 0.0;
  double near_point_break_cm = 0.0;
  double base_out_break_pd = 0.0;
  double symptom_score = 0.0;  ///< of its symptom survey
};
struct InsufficiencyVerdict {
  bool near_greater = false;    ///< by 4 or more
  bool far_near_point = false;  ///< 6 cm or more
  bool small_reserve = false;   ///< 15 or less, or fails Sheard
  bool symptoms = false;        ///< 16 or more
  [[nodiscard]] bool all() const {
    return near_greater && far_near_point && small_reserve && symptoms;
  }
};
InsufficiencyVerdict check_insufficiency(const InsufficiencySigns& signs);

/// A: more eso (less exo) above than below by 10; V: more eso below than above by 15.
enum class VerticalPattern : std::uint8_t { none, a, v };
VerticalPattern find_vertical_pattern(double up_pd, double down_pd, double least_a_pd = 10.0,
                                      double least_v_pd = 15.0);

/// Types of exotropia after Burian (from memory): distance and near apart by 10; optometric tables
/// use 5.
enum class ExotropiaType : std::uint8_t { basic, divergence_excess, convergence_insufficiency };
ExotropiaType find_exotropia_type(double distance_exo_pd, double near_exo_pd,
                                  double threshold_pd = 10.0);

/// Parks 1969: at most 8 manifest, more on alternate cover, stereopsis of 67 to 3000 seconds.
bool is_monofixation(double manifest_pd, double alternate_pd, double stereo_arcsec);

/// Whether two measurements of an esotropia differ by more than two examinations of the same angle
/// do: 12 or more above 20, 6 or more from 10 to 20 (Pediatric Eye Disease Investigator Group
/// 2009). Nothing where the first is below 10: not studied.
std::optional<bool> is_real_change(double first_pd, double second_pd);

/// Parks's three steps (1958): the higher eye, the side of gaze and the side of head tilt on which
/// it is worse. Only the superior oblique rows were read; the others follow from the muscles'
/// actions: opposite sides, a depressor of the higher eye; the same side, an elevator of the lower.
struct WeakMuscle {
  Eye eye = Eye::right;
  std::string_view name;
};
WeakMuscle find_weak_muscle(Eye higher, Eye worse_gaze, Eye worse_tilt);

}  // namespace redress::truth
