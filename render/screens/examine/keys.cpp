// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/screens/examine/keys.hpp"

#include <array>
#include <utility>

namespace redress::screens::examine {

namespace {

using namespace hid;

constexpr Modifiers kPlain{};
constexpr Modifiers kShift{.shift = true};
constexpr Modifiers kControl{.control = true};

constexpr double kStepMm = 1.0;       // arrows
constexpr double kShiftStepMm = 5.0;  // with Shift
constexpr double kNotchMm = 2.0;      // nearer and farther, as the wheel
constexpr double kRollDeg = 5.0;
constexpr double kLeanMm = 20.0;

constexpr Scancode digit(int n) { return static_cast<Scancode>(kDigit1 + n - 1); }
constexpr Scancode function_key(int n) { return static_cast<Scancode>(kF1 + n - 1); }
constexpr Scancode keypad(int n) { return static_cast<Scancode>(kKeypad1 + n - 1); }
constexpr double of(Drawer d) { return static_cast<double>(d); }

// screens.md, section 3.
constexpr std::array kRoomKeys{
    KeyBinding{letter('A'), kPlain, {Command::cover_left_side}},
    KeyBinding{letter('D'), kPlain, {Command::cover_right_side}},
    KeyBinding{letter('W'), kPlain, {Command::take_upwards}},
    KeyBinding{letter('S'), kPlain, {Command::take_downwards}},
    KeyBinding{kSpace, kPlain, {Command::transfer}},
    KeyBinding{kLeft, kPlain, {Command::move_occluder, -kStepMm, 0}},
    KeyBinding{kRight, kPlain, {Command::move_occluder, kStepMm, 0}},
    KeyBinding{kUp, kPlain, {Command::move_occluder, 0, kStepMm}},
    KeyBinding{kDown, kPlain, {Command::move_occluder, 0, -kStepMm}},
    KeyBinding{kLeft, kShift, {Command::move_occluder, -kShiftStepMm, 0}},
    KeyBinding{kRight, kShift, {Command::move_occluder, kShiftStepMm, 0}},
    KeyBinding{kUp, kShift, {Command::move_occluder, 0, kShiftStepMm}},
    KeyBinding{kDown, kShift, {Command::move_occluder, 0, -kShiftStepMm}},
    KeyBinding{kPageDown, kPlain, {Command::occluder_distance, -kNotchMm}},
    KeyBinding{kPageUp, kPlain, {Command::occluder_distance, kNotchMm}},
    KeyBinding{kHome, kPlain, {Command::occluder_roll, -kRollDeg}},
    KeyBinding{kEnd, kPlain, {Command::occluder_roll, kRollDeg}},
    KeyBinding{letter('V'), kPlain, {Command::other_occluder}},
    KeyBinding{letter('Q'), kPlain, {Command::prism_step, -1}},
    KeyBinding{letter('E'), kPlain, {Command::prism_step, 1}},
    KeyBinding{digit(1), kPlain, {Command::prism_base, 0}},
    KeyBinding{digit(2), kPlain, {Command::prism_base, 1}},
    KeyBinding{digit(3), kPlain, {Command::prism_base, 2}},
    KeyBinding{digit(4), kPlain, {Command::prism_base, 3}},
    KeyBinding{digit(5), kPlain, {Command::prism_kind, -1}},
    KeyBinding{letter('F'), kPlain, {Command::prism_take}},
    KeyBinding{letter('R'), kPlain, {Command::prism_other_eye}},
    KeyBinding{letter('G'), kPlain, {Command::prism_split}},
    KeyBinding{letter('T'), kPlain, {Command::drawer, of(Drawer::target)}},
    KeyBinding{function_key(1), kPlain, {Command::target_distance, 0}},
    KeyBinding{function_key(2), kPlain, {Command::target_distance, 1}},
    KeyBinding{function_key(3), kPlain, {Command::target_distance, 2}},
    KeyBinding{function_key(4), kPlain, {Command::target_distance, 3}},
    KeyBinding{function_key(5), kPlain, {Command::target_distance, 4}},
    KeyBinding{function_key(6), kPlain, {Command::target_distance, 5}},
    KeyBinding{kLeftBracket, kPlain, {Command::target_size, -1}},
    KeyBinding{kRightBracket, kPlain, {Command::target_size, 1}},
    KeyBinding{keypad(1), kPlain, {Command::gaze, 1}},
    KeyBinding{keypad(2), kPlain, {Command::gaze, 2}},
    KeyBinding{keypad(3), kPlain, {Command::gaze, 3}},
    KeyBinding{keypad(4), kPlain, {Command::gaze, 4}},
    KeyBinding{keypad(5), kPlain, {Command::gaze, 5}},
    KeyBinding{keypad(6), kPlain, {Command::gaze, 6}},
    KeyBinding{keypad(7), kPlain, {Command::gaze, 7}},
    KeyBinding{keypad(8), kPlain, {Command::gaze, 8}},
    KeyBinding{keypad(9), kPlain, {Command::gaze, 9}},
    KeyBinding{letter('C'), kPlain, {Command::drawer, of(Drawer::correction)}},
    KeyBinding{letter('X'), kPlain, {Command::drawer, of(Drawer::say)}},
    KeyBinding{kReturn, kPlain, {Command::repeat}},
    KeyBinding{letter('Z'), kPlain, {Command::view, -1}},
    KeyBinding{letter('Z'), kShift, {Command::view_other_eye}},
    KeyBinding{kLeft, kControl, {Command::lean, -kLeanMm, 0}},
    KeyBinding{kRight, kControl, {Command::lean, kLeanMm, 0}},
    KeyBinding{kUp, kControl, {Command::lean, 0, kLeanMm}},
    KeyBinding{kDown, kControl, {Command::lean, 0, -kLeanMm}},
    KeyBinding{kHome, kControl, {Command::lean_back}},
    KeyBinding{letter('B'), kPlain, {Command::penlight}},
    KeyBinding{letter('M'), kPlain, {Command::near_point}},
    KeyBinding{letter('N'), kPlain, {Command::record}},
    KeyBinding{kSlash, kPlain, {Command::write_finding}},
    KeyBinding{digit(1), kControl, {Command::record_section, 1}},
    KeyBinding{digit(2), kControl, {Command::record_section, 2}},
    KeyBinding{digit(3), kControl, {Command::record_section, 3}},
    KeyBinding{digit(4), kControl, {Command::record_section, 4}},
    KeyBinding{digit(5), kControl, {Command::record_section, 5}},
    KeyBinding{digit(6), kControl, {Command::record_section, 6}},
    KeyBinding{letter('H'), kPlain, {Command::drawer, of(Drawer::story)}},
    KeyBinding{letter('J'), kPlain, {Command::drawer, of(Drawer::tasks)}},
    KeyBinding{function_key(9), kPlain, {Command::coach}},
    KeyBinding{function_key(9), kShift, {Command::coach_why}},
    KeyBinding{function_key(12), kPlain, {Command::drawer, of(Drawer::help)}},
    KeyBinding{kEscape, kPlain, {Command::close}},
};

struct Pair {
  Scancode one;
  Scancode other;
};

constexpr Pair kMirrored[] = {
    {letter('Q'), letter('P')}, {letter('W'), letter('O')}, {letter('E'), letter('I')},
    {letter('R'), letter('U')}, {letter('T'), letter('Y')}, {letter('A'), kSemicolon},
    {letter('S'), letter('L')}, {letter('D'), letter('K')}, {letter('F'), letter('J')},
    {letter('G'), letter('H')}, {letter('Z'), kSlash},      {letter('X'), kPeriod},
    {letter('C'), kComma},      {letter('V'), letter('M')}, {letter('B'), letter('N')},
    {digit(1), digit(7)},       {digit(2), digit(8)},       {digit(3), digit(9)},
    {digit(4), digit(10)},      {digit(5), kMinus},
};

constexpr std::pair<Scancode, std::string_view> kCaptions[] = {{kReturn, "Enter"},
                                                               {kEscape, "Esc"},
                                                               {kTab, "Tab"},
                                                               {kSpace, "Space"},
                                                               {kMinus, "-"},
                                                               {kLeftBracket, "["},
                                                               {kRightBracket, "]"},
                                                               {kSemicolon, ";"},
                                                               {kComma, ","},
                                                               {kPeriod, "."},
                                                               {kSlash, "/"},
                                                               {kHome, "Home"},
                                                               {kEnd, "End"},
                                                               {kPageUp, "Page Up"},
                                                               {kPageDown, "Page Down"},
                                                               {kRight, "→"},
                                                               {kLeft, "←"},
                                                               {kDown, "↓"},
                                                               {kUp, "↑"}};

bool is_slowed_by_shift(Command command) {
  switch (command) {
    case Command::cover_left_side:
    case Command::cover_right_side:
    case Command::take_upwards:
    case Command::take_downwards:
    case Command::transfer: return true;
    default: return false;
  }
}

}  // namespace

std::span<const KeyBinding> room_keys() { return kRoomKeys; }

std::optional<Order> find_order(Scancode key, Modifiers modifiers, bool mirrored) {
  Scancode place = mirrored ? mirror_key(key) : key;
  Order order;
  const auto find = [&](Modifiers wanted) {
    for (const KeyBinding& binding : kRoomKeys) {
      if (binding.key != place || binding.modifiers != wanted) continue;
      order = binding.order;
      return true;
    }
    return false;
  };
  bool found = find(modifiers);
  if (!found && modifiers == kShift) found = find(kPlain) && is_slowed_by_shift(order.command);
  if (!found) return std::nullopt;
  // Only left and right keep their sense on the screen: K covers the eye on the left.
  if (mirrored && order.command == Command::cover_left_side) {
    order.command = Command::cover_right_side;
  } else if (mirrored && order.command == Command::cover_right_side) {
    order.command = Command::cover_left_side;
  }
  return order;
}

Scancode mirror_key(Scancode key) {
  for (const Pair& pair : kMirrored) {
    if (pair.one == key) return pair.other;
    if (pair.other == key) return pair.one;
  }
  return key;
}

std::string_view find_caption(Scancode key) {
  constexpr std::string_view kLetters = "ABCDEFGHIJKLMNOPQRSTUVWXYZ";
  constexpr std::string_view kDigits = "1234567890";
  constexpr std::string_view kFunction[] = {"F1", "F2", "F3", "F4",  "F5",  "F6",
                                            "F7", "F8", "F9", "F10", "F11", "F12"};
  if (key >= kA && key < kA + 26) return kLetters.substr(key - kA, 1U);
  if (key >= kDigit1 && key < kDigit1 + 10) return kDigits.substr(key - kDigit1, 1U);
  if (key >= kF1 && key < kF1 + 12) return kFunction[key - kF1];
  if (key >= kKeypad1 && key < kKeypad1 + 10) return kDigits.substr(key - kKeypad1, 1U);
  for (const auto& [place, caption] : kCaptions) {
    if (place == key) return caption;
  }
  return {};
}

std::optional<Order> find_order(ControllerButton button) {
  switch (button) {
    case ControllerButton::lower: return Order{Command::repeat};
    case ControllerButton::right: return Order{Command::drawer, of(Drawer::say)};
    case ControllerButton::left: return Order{Command::drawer, of(Drawer::target)};
    case ControllerButton::upper: return Order{Command::record};
    case ControllerButton::left_bumper: return Order{Command::prism_step, -1};
    case ControllerButton::right_bumper: return Order{Command::prism_step, 1};
    case ControllerButton::left_stick: return Order{Command::prism_other_eye};
    case ControllerButton::right_stick: return Order{Command::other_occluder};
    case ControllerButton::pad_left: return Order{Command::prism_base, 0};
    case ControllerButton::pad_right: return Order{Command::prism_base, 1};
    case ControllerButton::pad_up: return Order{Command::prism_base, 2};
    case ControllerButton::pad_down: return Order{Command::prism_base, 3};
  }
  return std::nullopt;
}

}  // namespace redress::screens::examine
