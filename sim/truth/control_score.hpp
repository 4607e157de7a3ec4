// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The office control score of an exodeviation as an outcome (Mohney & Holmes 2006; the rule itself:
// sim/truth/criteria.hpp): the patient is first left alone for 30 s at distance and 30 s at near,
// before anything has dissociated the eyes; only if it was never manifest at a distance is an eye
// covered there for 10 s, three times: the right, the left, and the one that took longer again.
#pragma once

#include "sim/room/examination.hpp"

namespace redress::truth {

struct ControlScore {
  int distance = 0;  ///< at 6 m, 0 ... 5
  int near = 0;      ///< at 33 cm
};

/// A patient breaks down by itself by chance alone, so the 30 s are watched with the noise on, in
/// five persons of the same kind, and the middle one counts; the recoveries are those of the calm
/// patient. Who cannot break down by itself is not watched (sim/truth/solved.hpp); `run`: is.
ControlScore calc_control_scores(const ExaminationSetup& setup);
ControlScore run_control_scores(const ExaminationSetup& setup);

}  // namespace redress::truth
