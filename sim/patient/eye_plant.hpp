// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The muscles of one eye as a patient's constant: what is written of them, and the tables that a
// step reads.
#pragma once

#include <optional>

#include "sim/patient/plant_table.hpp"

namespace redress::patient {

/// One eye's muscles, made ready when the case is loaded; constant. 0.1 to 0.3 s each to make, with
/// a version gain below 1 about a second, if all nodes are solved at once.
struct EyePlant {
  EyeMuscles muscles;
  PlantTable whole;
  /// With the innervation alone, where something mechanical is beside it.
  std::optional<PlantTable> innervated;
  bool lags = false;        ///< the innervation is not that of health
  bool mechanical = false;  ///< nor are the lengths and stops
};

/// Nothing for a healthy eye. `tilt_gain` widens the table for what the head's tilt asks.
std::optional<EyePlant> make_eye_plant(const EyeMuscles& muscles, double tilt_gain,
                                       NodesSolved when = NodesSolved::at_once);

}  // namespace redress::patient
