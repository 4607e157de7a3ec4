// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The room's furniture on the screen: strip, shelf, message line, drawers, spine. It draws values
// and gives orders back; the patient's picture is drawn below it by the application.
#pragma once

#include <vector>

#include "render/screens/examine/drawers.hpp"
#include "render/screens/examine/room_view.hpp"
#include "render/screens/layout.hpp"
#include "render/screens/parts/ui.hpp"

namespace redress::screens::examine {

/// What the screen keeps between frames.
struct ScreenState {
  std::size_t row = 0;  ///< compact: the drawer shows one row at a time
  Drawer row_of = Drawer::none;
  Rect bar;  ///< where the bar was drawn; what lies on a place is asked before the place
};

struct ScreenOutcome {
  std::vector<Order> orders;  ///< to feed as Chosen, in order
};

/// Layouts without an open card; the card beside the patient is another screen's.
ScreenOutcome draw_examine(Ui& ui, const ExamineLayout& layout, const Session& session,
                           const RoomViewChoice& choice, ScreenState& state);

/// What the session needs of a layout.
ViewFrame to_frame(const ExamineLayout& layout, float scale);

}  // namespace redress::screens::examine
