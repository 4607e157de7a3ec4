// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/app/room_input.hpp"

#include <optional>

namespace redress::app {

namespace {

namespace ex = screens::examine;
namespace in = window::input;

// HID usage numbers, as all keys here.
constexpr ex::Scancode kLeftControl = 224, kLeftShift = 225, kRightControl = 228, kRightShift = 229;

ex::Button to_button(window::MouseButton button) {
  switch (button) {
    case window::MouseButton::right: return ex::Button::right;
    case window::MouseButton::wheel: return ex::Button::middle;
    case window::MouseButton::left: break;
  }
  return ex::Button::left;
}

std::optional<ex::ControllerButton> to_controller_button(window::PadButton button) {
  switch (button) {
    case window::PadButton::lower: return ex::ControllerButton::lower;
    case window::PadButton::right: return ex::ControllerButton::right;
    case window::PadButton::left: return ex::ControllerButton::left;
    case window::PadButton::upper: return ex::ControllerButton::upper;
    case window::PadButton::left_bumper: return ex::ControllerButton::left_bumper;
    case window::PadButton::right_bumper: return ex::ControllerButton::right_bumper;
    case window::PadButton::left_stick: return ex::ControllerButton::left_stick;
    case window::PadButton::right_stick: return ex::ControllerButton::right_stick;
    case window::PadButton::pad_up: return ex::ControllerButton::pad_up;
    case window::PadButton::pad_down: return ex::ControllerButton::pad_down;
    case window::PadButton::pad_left: return ex::ControllerButton::pad_left;
    case window::PadButton::pad_right: return ex::ControllerButton::pad_right;
    case window::PadButton::back:
    case window::PadButton::start: return std::nullopt;
  }
  return std::nullopt;
}

/// Over the patient, with nothing of the furniture between.
bool is_before_patient(const RoomInputPlace& place, double x_px, double y_px) {
  const screens::Point at{static_cast<float>(x_px) / place.scale,
                          static_cast<float>(y_px) / place.scale};
  const screens::ExamineLayout& l = place.layout;
  return l.view.contains(at) && !l.card.contains(at) && !l.spine.contains(at) &&
         !l.message.contains(at) && !(place.drawer_open && l.drawer.contains(at)) &&
         !place.over_part;
}

void set_axis(ex::ControllerMoved& stick, const in::PadMove& moved) {
  // The window's sticks are + downwards, the room's + upwards.
  switch (moved.axis) {
    case window::PadAxis::left_x: stick.left_x = moved.value; return;
    case window::PadAxis::left_y: stick.left_y = -moved.value; return;
    case window::PadAxis::right_x: stick.right_x = moved.value; return;
    case window::PadAxis::right_y: stick.right_y = -moved.value; return;
    case window::PadAxis::left_trigger: stick.left_trigger = moved.value; return;
    case window::PadAxis::right_trigger: stick.right_trigger = moved.value; return;
  }
}

}  // namespace

std::vector<ex::Input> RoomInput::take(const window::InputEvent& event, Tick at,
                                       const RoomInputPlace& place) {
  std::vector<ex::Input> inputs;
  const auto give = [&](ex::InputContent content) { inputs.push_back({at, std::move(content)}); };
  const auto move_to = [&](double x, double y) {
    x_px_ = x;
    y_px_ = y;
    const auto scale = static_cast<double>(place.scale);
    give(ex::PointerMoved{x - static_cast<double>(place.layout.view.x) * scale,
                          y - static_cast<double>(place.layout.view.y) * scale});
  };
  if (const auto* moved = std::get_if<in::PointerMove>(&event.content)) {
    move_to(moved->x_px, moved->y_px);
  } else if (const auto* button = std::get_if<in::PointerButton>(&event.content)) {
    const bool before = is_before_patient(place, button->x_px, button->y_px);
    const bool left = button->button == window::MouseButton::left;
    if (help_.click_holds && left && holding_) {
      // The click that took it is over; the next one lets it go.
      move_to(button->x_px, button->y_px);
      if (button->down) {
        give(ex::PointerReleased{ex::Button::left});
        holding_ = false;
      }
    } else if (button->down && before) {
      move_to(button->x_px, button->y_px);
      give(ex::PointerPressed{to_button(button->button)});
      if (button->button == window::MouseButton::left) holding_ = true;
    } else if (!button->down) {
      move_to(button->x_px, button->y_px);
      // A button that was not pressed here has nothing to let go; the room knows.
      give(ex::PointerReleased{to_button(button->button)});
      if (button->button == window::MouseButton::left) holding_ = false;
    }
  } else if (const auto* wheel = std::get_if<in::Wheel>(&event.content)) {
    if (holding_ || is_before_patient(place, x_px_, y_px_)) {
      give(ex::PointerWheel{wheel->notches, event.modifiers.shift});
    }
  } else if (const auto* key = std::get_if<in::KeyChange>(&event.content)) {
    const bool usable = key->down && place.keys_are_hands && !event.modifiers.alt;
    const auto code = static_cast<ex::Scancode>(key->key);
    const bool shift = code == kLeftShift || code == kRightShift;
    const bool control = code == kLeftControl || code == kRightControl;
    if (shift || control) {
      // Pressed again it is taken back.
      if (help_.one_key_at_a_time && key->down && !key->repeat) {
        latched_.shift = shift ? !latched_.shift : latched_.shift;
        latched_.control = control ? !latched_.control : latched_.control;
      }
    } else if (usable) {
      give(ex::KeyPressed{
          code,
          {event.modifiers.shift || latched_.shift, event.modifiers.control || latched_.control},
          key->repeat});
      latched_ = {};
    }
  } else if (const auto* pressed = std::get_if<in::PadPress>(&event.content)) {
    const auto known = to_controller_button(pressed->button);
    if (pressed->down && known) give(ex::ControllerPressed{*known});
  } else if (const auto* axis = std::get_if<in::PadMove>(&event.content)) {
    set_axis(stick_, *axis);
    give(stick_);
  } else if (const auto* pad = std::get_if<in::PadConnection>(&event.content)) {
    if (!pad->connected) {
      stick_ = {};
      give(ex::ControllerUnplugged{});
    }
  } else if (const auto* focus = std::get_if<in::WindowFocus>(&event.content)) {
    if (!focus->focused) {
      holding_ = false;
      give(ex::FocusLost{});
    }
  }
  return inputs;
}

}  // namespace redress::app
