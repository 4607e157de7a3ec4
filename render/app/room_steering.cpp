// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// A controller in the room: with its pad it goes through an open drawer, the card, a question that
// waits and, after Start, whatever can be pressed around the patient. Else its buttons are hands.
#include "render/app/room.hpp"
#include "render/app/steering.hpp"
#include "render/screens/examine/reading.hpp"

namespace redress::app {

namespace ex = screens::examine;
using screens::Place;

bool Room::steer_drawer(const window::InputEvent& event, screens::Ui& ui) {
  const auto* pad = std::get_if<window::input::PadPress>(&event.content);
  if (pad == nullptr || session_.drawer() == ex::Drawer::none) return false;
  using window::PadButton;
  switch (pad->button) {
    case PadButton::pad_up:
    case PadButton::pad_down: {
      const int step = pad->button == PadButton::pad_up ? -1 : 1;
      if (pad->down && (shows_page() || ex::is_reading(session_.drawer()))) {
        ui.scroll_page(step);
      } else if (pad->down) {
        ui.step_focus(step);
      }
      return true;
    }
    case PadButton::pad_left:
      if (pad->down) ui.press_sideways(-1);
      return true;
    case PadButton::pad_right:
      if (pad->down) ui.press_sideways(1);
      return true;
    case PadButton::lower:
      if (pad->down) ui.press_focused();
      return true;
    case PadButton::right:
      if (pad->down) session_.feed({tick_at(event.at_ms), ex::Chosen{{ex::Command::close}}});
      return true;
    default: return false;
  }
}

// As on a page; the right button leaves the card once no part has the focus, the upper one folds
// it.
bool Room::steer_card(const window::InputEvent& event, screens::Ui& ui) {
  const auto* pad = std::get_if<window::input::PadPress>(&event.content);
  if (pad == nullptr || ui.place() != Place::card) return false;
  if (steer(event, ui)) return true;
  if (pad->button == window::PadButton::upper && !whole_card_) {
    if (pad->down) obey({ex::Command::record}, ui);
    return true;
  }
  if (pad->button != window::PadButton::right) return false;
  if (!pad->down) return true;
  whole_card_ = false;
  if (compact_) show_card(false);
  ui.go_to(Place::room);
  return true;
}

bool Room::steer_around(const window::InputEvent& event, screens::Ui& ui) {
  if (asks_where_to_save()) return steer(event, ui);
  const auto* pad = std::get_if<window::input::PadPress>(&event.content);
  if (pad == nullptr || ui.place() != Place::room) return false;
  if (pad->button == window::PadButton::start) {
    if (!pad->down) return true;
    if (ui.focused().empty()) {
      ui.step_focus(1);
    } else {
      ui.drop_focus();
    }
    return true;
  }
  // The card that lies beside the patient is gone to; one that is folded is opened.
  if (pad->button == window::PadButton::upper && card_open_ && !compact_) {
    if (pad->down) ui.go_to(Place::card);
    return true;
  }
  return !ui.focused().empty() && steer(event, ui);
}

}  // namespace redress::app
