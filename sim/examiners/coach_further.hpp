// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The coach after the routine: which further tests follow from what was *written*, right or wrong.
#pragma once

#include <optional>

#include "sim/examiners/coach.hpp"

namespace redress::examiners {

std::optional<Advice> advise_further(const findings::Evidence& so_far);

}  // namespace redress::examiners
