// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The posture of the head in which a patient sees best with the least effort, as it has found out
// over the years: by trying, in a copy of the patient with the noise off.
#pragma once

#include "sim/room/examination.hpp"

namespace redress {

/// Turn, tilt and chin, each in steps of 5 degrees, tried one after the other, looking at a target
/// at 6 m as the case begins. What counts: whether the eyes are held together, how much of the
/// fusional reserves that takes, how far apart they are otherwise, how much nystagmus is left; and
/// a price on a head that is not upright. Upright where nothing is gained, or where both sides
/// gain the same. Up to about 0.2 s.
HeadState find_comfortable_posture(const ExaminationSetup& setup);

}  // namespace redress
