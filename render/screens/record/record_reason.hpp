// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Impression, plan and how soon. The lists are the same for every patient; anything can be typed.
#pragma once

#include "render/screens/parts/parts.hpp"
#include "render/screens/record/record_state.hpp"

namespace redress::screens::record {

/// From the top of r, as wide as it; returns the height used.
float draw_reason(Ui& ui, Rect r, CardEditor& editor, RecordState& state);

/// What was typed as impression becomes it: Enter, or handing in.
void settle_reason(CardEditor& editor, RecordState& state);

}  // namespace redress::screens::record
