// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// What came in from pointer, keys, controller and window system, as plain values with the time at
// which it came. Knows no window library: tests write these by hand.
#pragma once

#include <cstdint>
#include <string>
#include <variant>

namespace redress::window {

/// By position on the keyboard; numbers are the usages of the USB HID keyboard page (hut1_4,
/// chapter 10), which the window library also uses.
enum class Key : std::uint16_t {
  none = 0,
  a = 4,
  b,
  c,
  d,
  e,
  f,
  g,
  h,
  i,
  j,
  k,
  l,
  m,
  n,
  o,
  p,
  q,
  r,
  s,
  t,
  u,
  v,
  w,
  x,
  y,
  z,
  digit1 = 30,
  digit2,
  digit3,
  digit4,
  digit5,
  digit6,
  digit7,
  digit8,
  digit9,
  digit0,
  enter = 40,
  escape,
  backspace,
  tab,
  space,
  minus,
  equals,
  left_bracket,
  right_bracket,
  backslash = 49,
  semicolon = 51,
  apostrophe,
  grave,
  comma,
  period,
  slash,
  f1 = 58,
  f2,
  f3,
  f4,
  f5,
  f6,
  f7,
  f8,
  f9,
  f10,
  f11,
  f12,
  insert = 73,
  home,
  page_up,
  delete_forward,
  end,
  page_down,
  right,
  left,
  down,
  up,
  pad_divide = 84,
  pad_multiply,
  pad_minus,
  pad_plus,
  pad_enter,
  pad1 = 89,
  pad2,
  pad3,
  pad4,
  pad5,
  pad6,
  pad7,
  pad8,
  pad9,
  pad0,
  pad_point,
};

enum class MouseButton : std::uint8_t { left, right, wheel };
enum class PadButton : std::uint8_t {
  lower,
  right,
  left,
  upper,
  back,
  start,
  left_stick,
  right_stick,
  left_bumper,
  right_bumper,
  pad_up,
  pad_down,
  pad_left,
  pad_right,
};
/// Sticks -1 ... 1 (right and down +), triggers 0 ... 1.
enum class PadAxis : std::uint8_t { left_x, left_y, right_x, right_y, left_trigger, right_trigger };

struct Modifiers {
  bool shift = false;
  bool control = false;
  bool alt = false;
  bool operator==(const Modifiers&) const = default;
};

namespace input {

/// Pixels of what is drawn into, from the top left.
struct PointerMove {
  double x_px = 0;
  double y_px = 0;
};
struct PointerButton {
  MouseButton button = MouseButton::left;
  bool down = false;
  double x_px = 0;
  double y_px = 0;
};
/// + away from the user.
struct Wheel {
  double notches = 0;
  double sideways = 0;
};
struct KeyChange {
  Key key = Key::none;
  bool down = false;
  bool repeat = false;  ///< the system repeats it because it is held
};
/// Letters as typed, UTF-8.
struct Text {
  std::string text;
};
struct PadPress {
  PadButton button = PadButton::lower;
  bool down = false;
};
struct PadMove {
  PadAxis axis = PadAxis::left_x;
  double value = 0;
};
struct PadConnection {
  bool connected = false;
};
/// The pointer left the window (inside: false) or came back.
struct PointerInside {
  bool inside = false;
};
/// The window lost or won the keys.
struct WindowFocus {
  bool focused = false;
};
struct WindowResized {
  int width_px = 0;
  int height_px = 0;
};
struct CloseAsked {};

}  // namespace input

using InputContent =
    std::variant<input::PointerMove, input::PointerButton, input::Wheel, input::KeyChange,
                 input::Text, input::PadPress, input::PadMove, input::PadConnection,
                 input::PointerInside, input::WindowFocus, input::WindowResized, input::CloseAsked>;

/// `at_ms` is on the clock of the frames (FrameClock's now): milliseconds since the program began.
struct InputEvent {
  double at_ms = 0;
  Modifiers modifiers;
  InputContent content;
};

/// The letter that this keyboard prints on a key is asked of the window (Window::letter_of).

}  // namespace redress::window
