// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The four-dioptre base-out test of each eye, with both eyes open. Normals answer atypically now
// and then (Frantz, Cotter & Wick 1992), so it is repeated, and one typical answer counts.
#pragma once

#include "sim/examiners/consulting.hpp"
#include "sim/room/finding.hpp"

namespace redress::examiners {

PerEye<FourDioptreResponse> test_four_dioptres(Consulting& room, int times);

}  // namespace redress::examiners
