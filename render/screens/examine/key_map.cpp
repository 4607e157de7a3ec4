// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/screens/examine/key_map.hpp"

#include <algorithm>

namespace redress::screens::examine {

namespace {

constexpr Modifiers kPlain{};
constexpr Modifiers kShift{.shift = true};

Chord mirror(Chord chord) {
  // Ctrl is held by the other hand, or by a finger that reaches far: those keys stay.
  if (!chord.modifiers.control) chord.key = mirror_key(chord.key);
  return chord;
}

const Order& order_of(std::size_t act) { return room_keys()[act].order; }

/// Only left and right keep their sense on the screen: mirrored, K covers the eye on the left.
std::size_t find_counterpart(std::size_t act) {
  const Command command = order_of(act).command;
  Command other = command;
  if (command == Command::cover_left_side) other = Command::cover_right_side;
  if (command == Command::cover_right_side) other = Command::cover_left_side;
  if (other == command) return act;
  for (std::size_t i = 0; i < room_keys().size(); ++i) {
    if (order_of(i).command == other) return i;
  }
  return act;
}

bool can_be_shown(Scancode key) { return !find_caption(key).empty(); }

}  // namespace

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

bool is_fixed(std::size_t act) { return order_of(act).command == Command::close; }

KeyMap::KeyMap(bool mirrored) : mirrored_(mirrored) { use_usual(); }

void KeyMap::use_usual() {
  places_.clear();
  for (const KeyBinding& binding : room_keys()) places_.push_back({binding.key, binding.modifiers});
}

std::size_t KeyMap::find_own(std::size_t act) const {
  return mirrored_ ? find_counterpart(act) : act;
}

std::optional<std::size_t> KeyMap::find_act(const Chord& pressed) const {
  const Chord place = mirrored_ ? mirror(pressed) : pressed;
  const auto found = std::find(places_.begin(), places_.end(), place);
  if (found == places_.end()) return std::nullopt;
  return find_own(static_cast<std::size_t>(found - places_.begin()));
}

std::optional<Order> KeyMap::find_order(const Chord& pressed) const {
  if (const auto act = find_act(pressed)) return order_of(*act);
  if (pressed.modifiers != kShift) return std::nullopt;
  const auto plain = find_act({pressed.key, kPlain});
  if (!plain || !is_slowed_by_shift(order_of(*plain).command)) return std::nullopt;
  return order_of(*plain);
}

Chord KeyMap::chord_of(std::size_t act) const {
  return mirrored_ ? mirror(places_[find_own(act)]) : places_[act];
}

std::optional<std::size_t> KeyMap::find_other(std::size_t act, const Chord& place) const {
  for (std::size_t i = 0; i < places_.size(); ++i) {
    if (i != act && places_[i] == place) return i;
  }
  return std::nullopt;
}

// As for a mouse in the right hand, as all places are kept: what clashes there clashes mirrored.
std::optional<KeyRefusal> KeyMap::find_clash(std::size_t act, const Chord& wanted) const {
  using Why = KeyRefusal::Why;
  if (const auto by = find_other(act, wanted)) return KeyRefusal{Why::taken, *by};
  if (is_slowed_by_shift(order_of(act).command) && wanted.modifiers == kPlain) {
    if (const auto by = find_other(act, {wanted.key, kShift})) return KeyRefusal{Why::taken, *by};
  }
  if (wanted.modifiers == kShift) {
    const auto by = find_other(act, {wanted.key, kPlain});
    if (by && is_slowed_by_shift(order_of(*by).command)) return KeyRefusal{Why::taken_slow, *by};
  }
  return std::nullopt;
}

std::optional<KeyRefusal> KeyMap::find_refusal(std::size_t act, const Chord& wanted) const {
  using Why = KeyRefusal::Why;
  if (is_fixed(act) || wanted.key == hid::kEscape || wanted.key == hid::kTab ||
      !can_be_shown(wanted.key)) {
    return KeyRefusal{Why::reserved, act};
  }
  if (wanted.modifiers.shift && is_slowed_by_shift(order_of(act).command)) {
    return KeyRefusal{Why::shift_slows, act};
  }
  auto clash = find_clash(find_own(act), mirrored_ ? mirror(wanted) : wanted);
  if (clash) clash->by = find_own(clash->by);
  return clash;
}

std::optional<KeyRefusal> KeyMap::assign(std::size_t act, const Chord& wanted) {
  if (const auto refusal = find_refusal(act, wanted)) return refusal;
  places_[find_own(act)] = mirrored_ ? mirror(wanted) : wanted;
  return std::nullopt;
}

bool KeyMap::is_usual(std::size_t act) const {
  const std::size_t own = find_own(act);
  return places_[own] == Chord{room_keys()[own].key, room_keys()[own].modifiers};
}

bool KeyMap::is_usual() const {
  for (std::size_t i = 0; i < places_.size(); ++i) {
    if (!is_usual(i)) return false;
  }
  return true;
}

std::vector<OwnKey> KeyMap::own() const {
  std::vector<OwnKey> own;
  for (std::size_t i = 0; i < places_.size(); ++i) {
    const KeyBinding& usual = room_keys()[i];
    if (places_[i] == Chord{usual.key, usual.modifiers}) continue;
    own.push_back({std::string{usual.words}, places_[i]});
  }
  return own;
}

std::optional<KeyMap::Trouble> KeyMap::use(const std::vector<OwnKey>& own) {
  KeyMap wanted;  // for the right hand, as the list is
  std::vector<std::size_t> acts;
  for (std::size_t i = 0; i < own.size(); ++i) {
    const auto keys = room_keys();
    const auto found = std::find_if(keys.begin(), keys.end(), [&](const KeyBinding& each) {
      return each.words == own[i].does;
    });
    if (found == keys.end()) return Trouble{i, "no act is called “" + own[i].does + "”"};
    const auto act = static_cast<std::size_t>(found - keys.begin());
    if (std::find(acts.begin(), acts.end(), act) != acts.end()) {
      return Trouble{i, "“" + own[i].does + "” has a key already"};
    }
    acts.push_back(act);
    wanted.places_[act] = own[i].chord;
  }
  for (std::size_t i = 0; i < own.size(); ++i) {
    const auto refusal = wanted.find_refusal(acts[i], own[i].chord);
    if (!refusal) continue;
    using Why = KeyRefusal::Why;
    const bool taken = refusal->why == Why::taken || refusal->why == Why::taken_slow;
    return Trouble{i, "“" + own[i].does + "” cannot lie on that key" +
                          (taken ? ": “" + std::string{room_keys()[refusal->by].words} + "” does"
                                 : std::string{})};
  }
  places_ = wanted.places_;
  return std::nullopt;
}

}  // namespace redress::screens::examine
