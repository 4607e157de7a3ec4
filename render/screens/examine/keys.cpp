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
    KeyBinding{letter('A'), kPlain, {Command::cover_left_side}, "cover, left side"},
    KeyBinding{letter('D'), kPlain, {Command::cover_right_side}, "cover, right side"},
    KeyBinding{letter('W'), kPlain, {Command::take_upwards}, "lift up"},
    KeyBinding{letter('S'), kPlain, {Command::take_downwards}, "lower"},
    KeyBinding{kSpace, kPlain, {Command::transfer}, "to the other eye"},
    KeyBinding{kLeft, kPlain, {Command::move_occluder, -kStepMm, 0}, "occluder left by 1 mm"},
    KeyBinding{kRight, kPlain, {Command::move_occluder, kStepMm, 0}, "occluder right by 1 mm"},
    KeyBinding{kUp, kPlain, {Command::move_occluder, 0, kStepMm}, "occluder up by 1 mm"},
    KeyBinding{kDown, kPlain, {Command::move_occluder, 0, -kStepMm}, "occluder down by 1 mm"},
    KeyBinding{kLeft, kShift, {Command::move_occluder, -kShiftStepMm, 0}, "occluder left by 5 mm"},
    KeyBinding{kRight, kShift, {Command::move_occluder, kShiftStepMm, 0}, "occluder right by 5 mm"},
    KeyBinding{kUp, kShift, {Command::move_occluder, 0, kShiftStepMm}, "occluder up by 5 mm"},
    KeyBinding{kDown, kShift, {Command::move_occluder, 0, -kShiftStepMm}, "occluder down by 5 mm"},
    KeyBinding{kPageDown, kPlain, {Command::occluder_distance, -kNotchMm}, "occluder nearer"},
    KeyBinding{kPageUp, kPlain, {Command::occluder_distance, kNotchMm}, "occluder farther"},
    KeyBinding{
        kHome, kPlain, {Command::occluder_roll, -kRollDeg}, "turn the occluder anticlockwise"},
    KeyBinding{kEnd, kPlain, {Command::occluder_roll, kRollDeg}, "turn the occluder clockwise"},
    KeyBinding{letter('V'), kPlain, {Command::other_occluder}, "opaque or translucent"},
    KeyBinding{letter('Q'), kPlain, {Command::prism_step, -1}, "prism weaker"},
    KeyBinding{letter('E'), kPlain, {Command::prism_step, 1}, "prism stronger"},
    KeyBinding{digit(1), kPlain, {Command::prism_base, 0}, "base in"},
    KeyBinding{digit(2), kPlain, {Command::prism_base, 1}, "base out"},
    KeyBinding{digit(3), kPlain, {Command::prism_base, 2}, "base up"},
    KeyBinding{digit(4), kPlain, {Command::prism_base, 3}, "base down"},
    KeyBinding{digit(5), kPlain, {Command::prism_kind, -1}, "kind of prism"},
    KeyBinding{letter('F'), kPlain, {Command::prism_take}, "take a prism, put it away"},
    KeyBinding{letter('R'), kPlain, {Command::prism_other_eye}, "prism to the other eye"},
    KeyBinding{letter('G'), kPlain, {Command::prism_split}, "split, stack"},
    KeyBinding{letter('T'), kPlain, {Command::drawer, of(Drawer::target)}, "target"},
    KeyBinding{function_key(1), kPlain, {Command::target_distance, 0}, "distance far"},
    KeyBinding{function_key(2), kPlain, {Command::target_distance, 1}, "distance 6 m"},
    KeyBinding{function_key(3), kPlain, {Command::target_distance, 2}, "distance 1 m"},
    KeyBinding{function_key(4), kPlain, {Command::target_distance, 3}, "distance own screen"},
    KeyBinding{function_key(5), kPlain, {Command::target_distance, 4}, "distance 40 cm"},
    KeyBinding{function_key(6), kPlain, {Command::target_distance, 5}, "distance 33 cm"},
    KeyBinding{kLeftBracket, kPlain, {Command::target_size, -1}, "smaller target"},
    KeyBinding{kRightBracket, kPlain, {Command::target_size, 1}, "larger target"},
    KeyBinding{keypad(1), kPlain, {Command::gaze, 1}, "gaze down, patient's right"},
    KeyBinding{keypad(2), kPlain, {Command::gaze, 2}, "gaze down"},
    KeyBinding{keypad(3), kPlain, {Command::gaze, 3}, "gaze down, patient's left"},
    KeyBinding{keypad(4), kPlain, {Command::gaze, 4}, "gaze patient's right"},
    KeyBinding{keypad(5), kPlain, {Command::gaze, 5}, "gaze straight ahead"},
    KeyBinding{keypad(6), kPlain, {Command::gaze, 6}, "gaze patient's left"},
    KeyBinding{keypad(7), kPlain, {Command::gaze, 7}, "gaze up, patient's right"},
    KeyBinding{keypad(8), kPlain, {Command::gaze, 8}, "gaze up"},
    KeyBinding{keypad(9), kPlain, {Command::gaze, 9}, "gaze up, patient's left"},
    KeyBinding{letter('C'), kPlain, {Command::drawer, of(Drawer::correction)}, "correction"},
    KeyBinding{letter('X'), kPlain, {Command::drawer, of(Drawer::say)}, "say or ask"},
    KeyBinding{kReturn, kPlain, {Command::repeat}, "say the last again"},
    KeyBinding{letter('Z'), kPlain, {Command::view, -1}, "closer, back"},
    KeyBinding{letter('Z'), kShift, {Command::view_other_eye}, "closer view of the other eye"},
    KeyBinding{kLeft, kControl, {Command::lean, -kLeanMm, 0}, "lean left"},
    KeyBinding{kRight, kControl, {Command::lean, kLeanMm, 0}, "lean right"},
    KeyBinding{kUp, kControl, {Command::lean, 0, kLeanMm}, "lean up"},
    KeyBinding{kDown, kControl, {Command::lean, 0, -kLeanMm}, "lean down"},
    KeyBinding{kHome, kControl, {Command::lean_back}, "straight in front"},
    KeyBinding{letter('B'), kPlain, {Command::penlight}, "penlight"},
    KeyBinding{letter('L'), kPlain, {Command::room_light, -1}, "room light dim, bright"},
    KeyBinding{letter('M'), kPlain, {Command::near_point}, "near point"},
    KeyBinding{letter('N'), kPlain, {Command::record}, "record card"},
    KeyBinding{kSlash, kPlain, {Command::write_finding}, "write a finding"},
    KeyBinding{digit(1), kControl, {Command::record_section, 1}, "section 1 of the card"},
    KeyBinding{digit(2), kControl, {Command::record_section, 2}, "section 2 of the card"},
    KeyBinding{digit(3), kControl, {Command::record_section, 3}, "section 3 of the card"},
    KeyBinding{digit(4), kControl, {Command::record_section, 4}, "section 4 of the card"},
    KeyBinding{digit(5), kControl, {Command::record_section, 5}, "section 5 of the card"},
    KeyBinding{digit(6), kControl, {Command::record_section, 6}, "section 6 of the card"},
    KeyBinding{digit(7), kControl, {Command::record_section, 7}, "section 7 of the card"},
    KeyBinding{digit(8), kControl, {Command::record_section, 8}, "section 8 of the card"},
    KeyBinding{letter('H'), kPlain, {Command::drawer, of(Drawer::story)}, "story"},
    KeyBinding{letter('J'), kPlain, {Command::drawer, of(Drawer::tasks)}, "tasks"},
    KeyBinding{function_key(9), kPlain, {Command::coach}, "what comes next, said or not"},
    KeyBinding{function_key(9), kShift, {Command::coach_why}, "why that comes next"},
    KeyBinding{function_key(12), kPlain, {Command::drawer, of(Drawer::help)}, "hands and keys"},
    KeyBinding{kEscape, kPlain, {Command::close}, "close, back to the room"},
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
                                                               {kBackspace, "Backspace"},
                                                               {kMinus, "-"},
                                                               {kEquals, "="},
                                                               {kBackslash, "\\"},
                                                               {kHash, "#"},
                                                               {kApostrophe, "'"},
                                                               {kGrave, "`"},
                                                               {kBesideShift, "<"},
                                                               {kInsert, "Insert"},
                                                               {kDelete, "Delete"},
                                                               {kKeypadDivide, "Pad /"},
                                                               {kKeypadTimes, "Pad *"},
                                                               {kKeypadMinus, "Pad -"},
                                                               {kKeypadPlus, "Pad +"},
                                                               {kKeypadEnter, "Pad Enter"},
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

}  // namespace

std::span<const KeyBinding> room_keys() { return kRoomKeys; }

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
  constexpr std::string_view kPad[] = {"Pad 1", "Pad 2", "Pad 3", "Pad 4", "Pad 5",
                                       "Pad 6", "Pad 7", "Pad 8", "Pad 9", "Pad 0"};
  if (key >= kA && key < kA + 26) return kLetters.substr(key - kA, 1U);
  if (key >= kDigit1 && key < kDigit1 + 10) return kDigits.substr(key - kDigit1, 1U);
  if (key >= kF1 && key < kF1 + 12) return kFunction[key - kF1];
  if (key >= kKeypad1 && key < kKeypad1 + 10) return kPad[key - kKeypad1];
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
