// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The values of the station that is chosen while a circuit is composed.
#pragma once

#include "render/screens/assessment/compose_page.hpp"

namespace redress::screens::assessment {

void draw_compose_station(Ui& ui, Column& column, const ComposeModel& model,
                          ComposeOutcome& outcome);

}  // namespace redress::screens::assessment
