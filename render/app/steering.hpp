// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// A controller on the study screens: its pad goes from part to part and steps values, its lower
// button chooses, its right one lets go. In the room and in the drill it has its own meaning.
#pragma once

#include <vector>

#include "render/screens/parts/ui.hpp"
#include "render/window/input.hpp"

namespace redress::app {

/// For the next frame.
inline void steer(const std::vector<window::InputEvent>& events, screens::Ui& ui) {
  using window::PadButton;
  for (const window::InputEvent& event : events) {
    const auto* pad = std::get_if<window::input::PadPress>(&event.content);
    if (pad == nullptr || !pad->down) continue;
    const bool on_part = !ui.focused().empty();
    switch (pad->button) {
      case PadButton::pad_up: ui.step_focus(-1); break;
      case PadButton::pad_down: ui.step_focus(1); break;
      case PadButton::pad_left:
        if (on_part) ui.press_sideways(-1);
        break;
      case PadButton::pad_right:
        if (on_part) ui.press_sideways(1);
        break;
      case PadButton::lower:
        if (on_part) ui.press_focused();
        break;
      case PadButton::right: ui.drop_focus(); break;
      default: break;
    }
  }
}

}  // namespace redress::app
