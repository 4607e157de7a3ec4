// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/window/event_reader.hpp"

#include <algorithm>

namespace redress::window {

namespace {

// Below this a resting stick is at rest (common practice, no source).
constexpr double kDeadZone = 0.08;

std::optional<MouseButton> to_button(Uint8 button) {
  switch (button) {
    case SDL_BUTTON_LEFT: return MouseButton::left;
    case SDL_BUTTON_RIGHT: return MouseButton::right;
    case SDL_BUTTON_MIDDLE: return MouseButton::wheel;
    default: return std::nullopt;
  }
}

std::optional<PadButton> to_pad_button(Uint8 button) {
  switch (button) {
    case SDL_CONTROLLER_BUTTON_A: return PadButton::lower;
    case SDL_CONTROLLER_BUTTON_B: return PadButton::right;
    case SDL_CONTROLLER_BUTTON_X: return PadButton::left;
    case SDL_CONTROLLER_BUTTON_Y: return PadButton::upper;
    case SDL_CONTROLLER_BUTTON_BACK: return PadButton::back;
    case SDL_CONTROLLER_BUTTON_START: return PadButton::start;
    case SDL_CONTROLLER_BUTTON_LEFTSTICK: return PadButton::left_stick;
    case SDL_CONTROLLER_BUTTON_RIGHTSTICK: return PadButton::right_stick;
    case SDL_CONTROLLER_BUTTON_LEFTSHOULDER: return PadButton::left_bumper;
    case SDL_CONTROLLER_BUTTON_RIGHTSHOULDER: return PadButton::right_bumper;
    case SDL_CONTROLLER_BUTTON_DPAD_UP: return PadButton::pad_up;
    case SDL_CONTROLLER_BUTTON_DPAD_DOWN: return PadButton::pad_down;
    case SDL_CONTROLLER_BUTTON_DPAD_LEFT: return PadButton::pad_left;
    case SDL_CONTROLLER_BUTTON_DPAD_RIGHT: return PadButton::pad_right;
    default: return std::nullopt;
  }
}

std::optional<PadAxis> to_axis(Uint8 axis) {
  switch (axis) {
    case SDL_CONTROLLER_AXIS_LEFTX: return PadAxis::left_x;
    case SDL_CONTROLLER_AXIS_LEFTY: return PadAxis::left_y;
    case SDL_CONTROLLER_AXIS_RIGHTX: return PadAxis::right_x;
    case SDL_CONTROLLER_AXIS_RIGHTY: return PadAxis::right_y;
    case SDL_CONTROLLER_AXIS_TRIGGERLEFT: return PadAxis::left_trigger;
    case SDL_CONTROLLER_AXIS_TRIGGERRIGHT: return PadAxis::right_trigger;
    default: return std::nullopt;
  }
}

double to_deflection(Sint16 value) {
  const double part = std::clamp(value / 32767.0, -1.0, 1.0);
  if (part > kDeadZone) return (part - kDeadZone) / (1 - kDeadZone);
  if (part < -kDeadZone) return (part + kDeadZone) / (1 - kDeadZone);
  return 0;
}

std::optional<InputContent> to_window_change(const SDL_WindowEvent& event, double scale) {
  switch (event.event) {
    case SDL_WINDOWEVENT_ENTER: return input::PointerInside{true};
    case SDL_WINDOWEVENT_LEAVE: return input::PointerInside{false};
    case SDL_WINDOWEVENT_FOCUS_GAINED: return input::WindowFocus{true};
    case SDL_WINDOWEVENT_FOCUS_LOST: return input::WindowFocus{false};
    case SDL_WINDOWEVENT_SIZE_CHANGED:
      return input::WindowResized{static_cast<int>(event.data1 * scale),
                                  static_cast<int>(event.data2 * scale)};
    case SDL_WINDOWEVENT_CLOSE: return input::CloseAsked{};
    default: return std::nullopt;
  }
}

std::optional<InputContent> to_pad_change(const SDL_Event& event) {
  switch (event.type) {
    case SDL_CONTROLLERBUTTONDOWN:
    case SDL_CONTROLLERBUTTONUP:
      if (const auto button = to_pad_button(event.cbutton.button)) {
        return input::PadPress{*button, event.cbutton.state == SDL_PRESSED};
      }
      return std::nullopt;
    case SDL_CONTROLLERAXISMOTION:
      if (const auto axis = to_axis(event.caxis.axis)) {
        return input::PadMove{*axis, to_deflection(event.caxis.value)};
      }
      return std::nullopt;
    case SDL_CONTROLLERDEVICEADDED: return input::PadConnection{true};
    case SDL_CONTROLLERDEVICEREMOVED: return input::PadConnection{false};
    default: return std::nullopt;
  }
}

std::optional<InputContent> to_content(const SDL_Event& event, double scale) {
  switch (event.type) {
    case SDL_QUIT: return input::CloseAsked{};
    case SDL_WINDOWEVENT: return to_window_change(event.window, scale);
    case SDL_MOUSEMOTION: return input::PointerMove{event.motion.x * scale, event.motion.y * scale};
    case SDL_MOUSEBUTTONDOWN:
    case SDL_MOUSEBUTTONUP:
      if (const auto button = to_button(event.button.button)) {
        return input::PointerButton{*button, event.button.state == SDL_PRESSED,
                                    event.button.x * scale, event.button.y * scale};
      }
      return std::nullopt;
    case SDL_MOUSEWHEEL: {
      const double sign = event.wheel.direction == SDL_MOUSEWHEEL_FLIPPED ? -1 : 1;
      return input::Wheel{sign * static_cast<double>(event.wheel.preciseY),
                          sign * static_cast<double>(event.wheel.preciseX)};
    }
    case SDL_KEYDOWN:
    case SDL_KEYUP:
      return input::KeyChange{static_cast<Key>(event.key.keysym.scancode),
                              event.key.state == SDL_PRESSED, event.key.repeat != 0};
    case SDL_TEXTINPUT: return input::Text{event.text.text};
    default: return to_pad_change(event);
  }
}

}  // namespace

std::optional<InputEvent> to_input_event(const SDL_Event& event, double pixels_per_point) {
  std::optional<InputContent> content = to_content(event, pixels_per_point);
  if (!content) return std::nullopt;
  const bool of_key = event.type == SDL_KEYDOWN || event.type == SDL_KEYUP;
  const auto held = of_key ? static_cast<unsigned>(event.key.keysym.mod)
                           : static_cast<unsigned>(SDL_GetModState());
  const Modifiers modifiers{(held & static_cast<unsigned>(KMOD_SHIFT)) != 0,
                            (held & static_cast<unsigned>(KMOD_CTRL)) != 0,
                            (held & static_cast<unsigned>(KMOD_ALT)) != 0};
  return InputEvent{static_cast<double>(event.common.timestamp), modifiers, std::move(*content)};
}

}  // namespace redress::window
