// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// What can be ordered in the room, and which key, with which modifiers, orders it. Keys are places
// on the keyboard, numbered as in the USB HID usage tables (usage page 7, "Keyboard/Keypad"), which
// is also how SDL numbers its scancodes; captions show the letter printed there.
#pragma once

#include <cstdint>
#include <optional>
#include <span>
#include <string_view>
#include <vector>

namespace redress::screens::examine {

using Scancode = std::uint16_t;

/// HID usage numbers of the keys that are named in the code; letters follow from kA.
namespace hid {
inline constexpr Scancode kA = 4;
inline constexpr Scancode kDigit1 = 30;  ///< 1 ... 9, then 0
inline constexpr Scancode kReturn = 40, kEscape = 41, kBackspace = 42, kTab = 43, kSpace = 44;
inline constexpr Scancode kMinus = 45, kEquals = 46, kBackslash = 49, kHash = 50;
inline constexpr Scancode kLeftBracket = 47, kRightBracket = 48, kSemicolon = 51;
inline constexpr Scancode kApostrophe = 52, kGrave = 53, kComma = 54;
inline constexpr Scancode kPeriod = 55, kSlash = 56, kF1 = 58;  ///< F1 ... F12
inline constexpr Scancode kInsert = 73, kHome = 74, kPageUp = 75, kDelete = 76, kEnd = 77;
inline constexpr Scancode kPageDown = 78;
inline constexpr Scancode kRight = 79, kLeft = 80, kDown = 81, kUp = 82;
inline constexpr Scancode kKeypadDivide = 84, kKeypadTimes = 85, kKeypadMinus = 86;
inline constexpr Scancode kKeypadPlus = 87, kKeypadEnter = 88;
inline constexpr Scancode kKeypad1 = 89;       ///< 1 ... 9, then 0
inline constexpr Scancode kBesideShift = 100;  ///< of keyboards that have a key more
constexpr Scancode letter(char upper) { return static_cast<Scancode>(kA + (upper - 'A')); }
}  // namespace hid

struct Modifiers {
  bool shift = false;
  bool control = false;
  bool operator==(const Modifiers&) const = default;
};

/// What is ordered. "Left" and "right" of the occluder are sides of the picture.
enum class Command : std::uint8_t {
  cover_left_side,
  cover_right_side,
  take_upwards,
  take_downwards,
  transfer,
  move_occluder,      ///< arguments: mm to the picture's right, mm up
  occluder_distance,  ///< argument: mm, + farther from the face
  occluder_roll,      ///< argument: degrees, + clockwise in the picture
  other_occluder,
  prism_step,  ///< argument: -1 weaker, +1 stronger
  prism_jump,  ///< argument: index of the bar's step
  prism_base,  ///< argument: 0 in, 1 out, 2 up, 3 down
  prism_kind,  ///< argument: -1 the next, else index
  prism_take,
  prism_other_eye,
  prism_split,
  prism_held,         ///< argument: 0 frontal, 1 Prentice, 2 minimum deviation
  target_kind,        ///< argument: 0 letters, 1 letter, 2 picture, 3 spot
  target_distance,    ///< argument: index of kDistances
  target_distance_m,  ///< argument: metres
  target_size,        ///< argument: steps of 0.1 logMAR, + larger
  target_logmar,      ///< argument: logMAR
  gaze,               ///< argument: 1 ... 9 as on the number pad
  near_point,         ///< the target comes nearer, or stops
  spectacles,         ///< argument: 1 on, 0 off, -1 the other
  trial_lens_right,
  trial_lens_left,
  trial_lenses,  ///< argument: dioptres
  say,           ///< argument: index of kPhrases
  repeat,        ///< says the last again
  view,          ///< argument: -1 the next, else 0 both, 1 one eye, 2 close
  view_other_eye,
  lean,       ///< arguments: mm to the picture's right, mm up
  lean_back,  ///< straight in front again
  penlight,
  room_light,  ///< argument: 1 dim, 0 bright, -1 the other
  head,        ///< argument: index of kHeadPoses
  drawer,      ///< argument: Drawer
  close,       ///< what is open; then nothing
  record,
  write_finding,
  record_section,
  coach,      ///< shown or hidden
  coach_why,  ///< its reason instead of its word, and back
  leave,      ///< the application's
};

struct Order {
  Command command = Command::close;
  double first = 0;
  double second = 0;
  bool operator==(const Order&) const = default;
};

/// What stands on the message line. One at a time.
enum class Drawer : std::uint8_t { none, prism, target, correction, say, view, story, help, tasks };

/// Places of a controller's face buttons, not their letters.
enum class ControllerButton : std::uint8_t {
  lower,
  right,
  left,
  upper,
  left_bumper,
  right_bumper,
  left_stick,
  right_stick,
  pad_up,
  pad_down,
  pad_left,
  pad_right,
};

struct KeyBinding {
  Scancode key;
  Modifiers modifiers;
  Order order;
  std::string_view words;  ///< what it does; also its name where keys are kept
};

/// Every act that has a key in the room, and where that usually lies for a mouse in the right hand;
/// where it lies for this person is in key_map.hpp.
std::span<const KeyBinding> room_keys();

/// The place on the other side of the keyboard: Q and P, W and O, and so on; the digits 1 to 5
/// become 7 8 9 0 and minus; other keys stay where they are.
Scancode mirror_key(Scancode key);

/// What is printed on the key of a keyboard with English (US) letters; empty if nothing is known.
std::string_view find_caption(Scancode key);

std::optional<Order> find_order(ControllerButton button);

}  // namespace redress::screens::examine
