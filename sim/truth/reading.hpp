// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Lenses with an addition: which part of them is looked through, and the deviation where a patient
// reads, with the gaze lowered into the near part.
#pragma once

#include <vector>

#include "sim/truth/truth.hpp"

namespace redress::truth {

/// The part through which this eye sees the target now.
UsedLens find_used_lens(const Examination& exam, Eye eye);
UsedLens find_used_lens(const RoomParameters& parameters, const RoomState& room, Eye eye);

/// How far below straight ahead a target at this distance has to be for this eye to see it through
/// the near part, in whole degrees; none within 45, or without an addition.
std::optional<double> find_reading_gaze(const ExaminationSetup& setup, double distance_m, Eye eye);

/// Both eyes fixing in turn, at this distance; nothing where no near part is reached.
std::vector<Condition> calc_reading(const ExaminationSetup& setup, double distance_m);

}  // namespace redress::truth
