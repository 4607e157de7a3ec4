// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// What the patient makes of the two retinal images at one tick, before any reaction.
#pragma once

#include "sim/patient/parameters.hpp"
#include "sim/patient/retinas.hpp"
#include "sim/patient/state.hpp"

namespace redress::patient {

struct Sight {
  PerEye<bool> seen{};      ///< the image is there and the lids are open
  PerEye<bool> resolved{};  ///< and its detail can be made out
  PerEye<Angles> error{};   ///< from the fovea to the image, degrees
  bool both_seen = false;
  bool none_seen = false;
  double disparity_deg = 0.0;           ///< e_left - e_right + anomaly: 0 when fused; convergence +
  double vertical_disparity_deg = 0.0;  ///< e_right - e_left
};

/// Closure of the lids by the blink under way, 0 ... 1.
double calc_blink_closure(const InstabilityState& state);

/// The eyes dip down and towards the nose with a blink, 1 to 2 degrees (Collewijn, van der Steen &
/// Steinman 1985); the patient knows of it and does not correct it.
Angles calc_blink_dip(const InstabilityState& state, Eye eye);

/// logMAR lost by the blur that accommodation cannot remove: 0.4 per dioptre beyond half a dioptre
/// (judgement: one dioptre of myopia costs about four lines, from memory). Both eyes accommodate
/// alike (Hering), as the eye that leads needs it: `leading_demand_d`. Sphere and cylinder add as
/// power vectors (Thibos, Wheeler & Horner 1997, Optom Vis Sci 74:367).
double calc_blur_loss(const Accommodation& accommodation, const RetinalImage& image,
                      double leading_demand_d);

Sight calc_sight(const Parameters& parameters, const Retinas& retinas, const State& state);

}  // namespace redress::patient
