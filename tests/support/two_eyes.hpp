// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Two eyes under Hering's law, solved cold: what the muscles alone make of a deviation, without an
// engine round them. Prism dioptres (eso +, right higher +), degrees (excyclo +).
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <optional>

#include "sim/patient/plant.hpp"

namespace redress::tests {

struct PlantDeviation {
  double horizontal_pd = 0.0;
  double vertical_pd = 0.0;
  double cyclo_deg = 0.0;
  bool reached = false;  ///< the fixing eye is on the target

  [[nodiscard]] double size() const { return std::hypot(horizontal_pd, vertical_pd); }
};

struct TwoEyes {
  PerEye<patient::EyeMuscles> muscles;
  double tilt_gain = 1.0;
  patient::Plant plant{};

  /// Gaze in the head frame; `roll` is the counter-roll that is seen.
  [[nodiscard]] patient::Direction3 look(Eye eye, double horizontal, double vertical,
                                         double roll) const {
    const patient::Direction3 command =
        patient::to_muscle_frame(eye, {horizontal, vertical, roll * 2.1 * tilt_gain});
    const auto found = plant.calc_departure(muscles[eye], command);
    if (!found) return {std::nan(""), std::nan(""), std::nan("")};
    const patient::Direction3 turn = patient::to_head_frame(eye, found->turn);
    return {horizontal + turn.horizontal, vertical + turn.vertical, roll + turn.torsion};
  }

  /// The fixing eye's feedback raises the common command until its fovea is on the target.
  [[nodiscard]] PlantDeviation deviation(Eye fixing, double horizontal, double vertical,
                                         double tilt = 0.0) const {
    const double roll = -0.12 * tilt;
    double h = horizontal;
    double v = vertical;
    bool reached = false;
    for (int i = 0; i < 40 && !reached; ++i) {
      const auto now = look(fixing, h, v, roll);
      const double eh = horizontal - now.horizontal;
      const double ev = vertical - now.vertical;
      reached = std::abs(eh) + std::abs(ev) < 1e-6;
      if (reached) break;
      const auto beside = look(fixing, h + 0.01, v, roll);
      const auto above = look(fixing, h, v + 0.01, roll);
      const double hh = (beside.horizontal - now.horizontal) / 0.01;
      const double vh = (beside.vertical - now.vertical) / 0.01;
      const double hv = (above.horizontal - now.horizontal) / 0.01;
      const double vv = (above.vertical - now.vertical) / 0.01;
      const double determinant = hh * vv - hv * vh;
      const double dh = (eh * vv - ev * hv) / determinant;
      const double dv = (ev * hh - eh * vh) / determinant;
      h = std::clamp(h + std::clamp(dh, -12.0, 12.0), -50.0, 50.0);
      v = std::clamp(v + std::clamp(dv, -12.0, 12.0), -50.0, 50.0);
    }
    const auto right = look(Eye::right, h, v, roll);
    const auto left = look(Eye::left, h, v, roll);
    const auto prism = [](double degrees) {
      return 100.0 * std::tan(std::clamp(degrees, -80.0, 80.0) / 57.29577951308232);
    };
    return {prism(left.horizontal - right.horizontal), prism(right.vertical - left.vertical),
            right.torsion - left.torsion, reached};
  }
};

/// One muscle of the right eye at this strength.
inline TwoEyes weak_right(patient::Muscle muscle, double strength) {
  TwoEyes eyes;
  eyes.muscles.right.muscle[muscle].strength = strength;
  return eyes;
}

}  // namespace redress::tests
