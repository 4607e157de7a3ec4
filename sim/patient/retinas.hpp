// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// All that the patient ever gets of the world: what falls on each retina, how near the target
// looks, which way is up, what was said. The patient never knows that it is examined.
#pragma once

#include <array>
#include <cstdint>

#include "sim/basics/eye.hpp"
#include "sim/patient/angles.hpp"

namespace redress::patient {

struct RetinalImage {
  bool present = true;  ///< light of the target reaches the pupil (the lids are the patient's own)
  double horizontal_deg = 0.0;  ///< line of sight that would put the image on the fovea
  double vertical_deg = 0.0;
  double demand_d = 0.0;       ///< accommodation that would make it clear, or as clear as it can be
  double astigmatism_d = 0.0;  ///< half the cylinder that stays: no accommodation removes it
};

struct Retinas {
  PerEye<RetinalImage> image;
  double nearness_d = 1.0 / 6.0;  ///< 1 / distance of the target: the cue to proximal vergence
  double size_logmar = 0.2;       ///< of the detail to be resolved
  double detail = 1.0;            ///< 1 letters ... 0 nothing to accommodate on
  double head_roll_deg = 0.0;
  Angles head_speed_deg_s;         ///< of turn and chin, felt by the organs of balance
  PerEye<double> light{1.0, 1.0};  ///< of the surround that reaches each eye, 1 = a lit room
  /// Where else there is something to look at: the examiner's face, and what a hand holds before
  /// the face. From the target, degrees; nothing where it is in line with the target.
  std::array<Angles, 2> attractions{};
  std::int32_t attractive = 0;  ///< how many of them there are
  std::int32_t urged = 0;       ///< counts the times the patient was told to look at the target
};

}  // namespace redress::patient
