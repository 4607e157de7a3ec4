// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The alternating cover of sim/examiners/cover_test.hpp, told by eye.
#pragma once

#include <vector>

#include "sim/examiners/cover_test.hpp"

namespace redress::examiners {

/// What each eye showed when it was bared; a movement that a blink hid is in neither.
PerEye<std::vector<Shown>> alternate_by_eye(Consulting& room, const Manner& manner, int transfers);

}  // namespace redress::examiners
