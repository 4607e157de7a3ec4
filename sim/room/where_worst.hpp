// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Where in space a patient sees double most, as it knows from every day: found by looking there, in
// a copy of the patient with the noise off.
#pragma once

#include "sim/room/answers.hpp"
#include "sim/room/examination.hpp"

namespace redress {

/// Straight ahead at 6 m, 25 degrees to each side, up and down, and at 40 cm. `same` where no
/// direction is worse than straight ahead by 2 degrees.
Worst find_worst(const ExaminationSetup& setup, bool spectacles);

}  // namespace redress
