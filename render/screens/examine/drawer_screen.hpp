// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Draws the open drawer: all rows, or in the compact layout one row at a time.
#pragma once

#include <vector>

#include "render/screens/examine/screen.hpp"

namespace redress::screens::examine {

/// Orders are added. Keys with focus: arrows move, Enter or Space choose.
void draw_drawer(Ui& ui, const ExamineLayout& layout, const Session& session,
                 const KeyCaptions& captions, ScreenState& state, std::vector<Order>& orders);

}  // namespace redress::screens::examine
