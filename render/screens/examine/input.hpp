// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// What a person at the window did, as plain values with the time at which they did it. The
// application makes them from the window's events; nothing here knows a window. Times are ticks of
// the examination (ms), so that the same events give the same acts however often a frame is drawn.
#pragma once

#include <cstdint>
#include <variant>

#include "render/screens/examine/keys.hpp"
#include "sim/room/act.hpp"

namespace redress::screens::examine {

enum class Button : std::uint8_t { left, right, middle };

/// Pixels of the framebuffer from the upper left corner of the view (the patient's rectangle); may
/// lie outside it.
struct PointerMoved {
  double x_px = 0;
  double y_px = 0;
};
/// In the view. A press on a drawer, the shelf or the card is the screen's, not the hand's.
struct PointerPressed {
  Button button = Button::left;
};
struct PointerReleased {
  Button button = Button::left;
};
/// + away from the user, which is towards the patient.
struct PointerWheel {
  double notches = 0;
  bool shift = false;
};
struct KeyPressed {
  Scancode key = 0;
  Modifiers modifiers;
  bool repeated = false;  ///< by being held: no key repeats a motion by itself
};
/// Sticks -1 ... 1, + right and + up as the user sees it; triggers 0 ... 1.
struct ControllerMoved {
  double right_x = 0;
  double right_y = 0;
  double left_x = 0;
  double left_y = 0;
  double left_trigger = 0;
  double right_trigger = 0;
};
struct ControllerPressed {
  ControllerButton button = ControllerButton::lower;
};
/// A choice made with the mouse on the shelf or in a drawer.
struct Chosen {
  Order order;
};
/// The window lost the pointer or the keyboard, or the screen was locked.
struct FocusLost {};
struct ControllerUnplugged {};

using InputContent =
    std::variant<PointerMoved, PointerPressed, PointerReleased, PointerWheel, KeyPressed,
                 ControllerMoved, ControllerPressed, Chosen, FocusLost, ControllerUnplugged>;

struct Input {
  Tick at_ms = 0;
  InputContent content;
};

}  // namespace redress::screens::examine
