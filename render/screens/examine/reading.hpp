// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// What is read and not acted on: the patient's story with what was said so far, and the tasks. In a
// drawer under the patient, or in the compact layout on a page of its own, where the patient is not
// seen: then nobody acts on them either, while their time goes on.
#pragma once

#include <vector>

#include "render/screens/examine/screen.hpp"

namespace redress::screens::examine {

[[nodiscard]] constexpr bool is_reading(Drawer drawer) {
  return drawer == Drawer::story || drawer == Drawer::tasks;
}

/// `which`: story or tasks. Arrows and Page Up, Page Down scroll it.
void draw_reading(Ui& ui, const Rect& area, const Session& session, Drawer which);

/// The page of the compact layout; its way back and the way to the other page are added to orders.
void draw_reading_page(Ui& ui, const Rect& page, const Session& session,
                       const KeyCaptions& captions, std::vector<Order>& orders);

}  // namespace redress::screens::examine
