// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Two equations with two unknowns; see the header.
#include "sim/cases/proximal.hpp"

#include "sim/basics/elementary.hpp"
#include "sim/basics/units.hpp"
#include "sim/patient/fusion.hpp"

namespace redress {
namespace {

constexpr double kFar_m = 6.0;
constexpr double kNear_m = 0.40;
constexpr double kDegreesPerPrismDioptre = 0.5729387;  // atan(0.01)

// Cornea before the centre of rotation, from which distances count.
constexpr double kCornea_m = 0.0135;

}  // namespace

double calc_amplitude_d(double age_years) {
  const double amplitude = 18.5 - 0.30 * age_years;
  return amplitude < 0.5 ? 0.5 : amplitude;
}

double calc_response_limit_d(double age_years) {
  constexpr double kDepthOfFocus = 0.5;
  constexpr double kFrom = 50.0;
  constexpr double kTo = 60.0;
  const double share = elementary::clamp((age_years - kFrom) / (kTo - kFrom), 0.0, 1.0);
  const double limit = calc_amplitude_d(age_years) - kDepthOfFocus * share;
  return limit > 0.0 ? limit : 0.0;
}

double calc_accommodation_d(double distance_m, double age_years) {
  patient::Accommodation accommodation;
  accommodation.amplitude_d = calc_response_limit_d(age_years);
  return patient::calc_accommodation_goal(accommodation, 1.0 / (distance_m - kCornea_m), 1.0);
}

patient::Tonus solve_tonus(const Case& the_case) {
  const double age = the_case.patient.age_years;
  const double ipd_mm = the_case.patient.interpupillary_distance.value;
  const CaseDeviation& deviation = the_case.deviation;

  patient::Tonus tonus;
  tonus.vertical_deg = to_degrees(deviation.vertical).value;
  // d(angle)/d(label) at the near deviation: labels count 100 tan(angle).
  const double near_tangent = deviation.near.value / 100.0;
  const double degrees_per_label =
      elementary::kDegreesPerRadian / 100.0 / (1.0 + near_tangent * near_tangent);
  const double slope = patient::Accommodation{}.slope;  // response per dioptre of stimulus
  tonus.ac_a_deg_per_d = deviation.ac_a_pd_per_d * degrees_per_label / slope;

  // What tonic and proximal vergence must make up together, at each of the two distances.
  const auto left_over = [&](double distance_m, PrismDioptres typed) {
    return patient::calc_vergence_demand(ipd_mm, 1.0 / distance_m) + to_degrees(typed).value -
           tonus.ac_a_deg_per_d * calc_accommodation_d(distance_m, age);
  };
  const double far = left_over(kFar_m, deviation.distance);
  const double near = left_over(kNear_m, deviation.near);
  tonus.proximal_deg_per_d = (near - far) / (1.0 / kNear_m - 1.0 / kFar_m);
  tonus.tonic_deg = far - tonus.proximal_deg_per_d / kFar_m;
  return tonus;
}

double proximal_pd_at_40cm(const Case& the_case) {
  return solve_tonus(the_case).proximal_deg_per_d / kNear_m / kDegreesPerPrismDioptre;
}

}  // namespace redress
