// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// What each stage of a tick costs, for people: each alone, over and over, on the state of a living
// patient. Together they come to less than a tick, which has more to fetch.
#pragma once

#include <string>
#include <utility>
#include <vector>

#include "sim/room/examination.hpp"

namespace redress::program {

/// Stage and nanoseconds, in the order of sim/patient/step.hpp.
std::vector<std::pair<std::string, double>> measure_stages(const ExaminationSetup& setup);

}  // namespace redress::program
