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

/// For the next frame. True: the event was for the part that has the focus.
inline bool steer(const window::InputEvent& event, screens::Ui& ui) {
  using window::PadButton;
  const auto* pad = std::get_if<window::input::PadPress>(&event.content);
  if (pad == nullptr) return false;
  const bool on_part = !ui.focused().empty();
  switch (pad->button) {
    case PadButton::pad_up:
    case PadButton::pad_down:
      if (pad->down) ui.step_focus(pad->button == PadButton::pad_up ? -1 : 1);
      return true;
    case PadButton::pad_left:
    case PadButton::pad_right:
      if (pad->down && on_part) ui.press_sideways(pad->button == PadButton::pad_left ? -1 : 1);
      return true;
    case PadButton::lower:
      if (pad->down && on_part) ui.press_focused();
      return true;
    case PadButton::right:
      if (pad->down && on_part) ui.drop_focus();
      return on_part;
    default: return false;
  }
}
inline void steer(const std::vector<window::InputEvent>& events, screens::Ui& ui) {
  for (const window::InputEvent& event : events) (void)steer(event, ui);
}

}  // namespace redress::app
