// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// What stands on the keys: keys are places, captions show the letter that this keyboard prints
// there, where the act lies for this person.
#pragma once

#include <algorithm>
#include <map>
#include <string>

#include "render/screens/examine/key_map.hpp"

namespace redress::screens::examine {

struct KeyCaptions {
  std::map<Scancode, std::string> printed;  ///< where it is known; the rest as on a US keyboard
  KeyMap keys;

  [[nodiscard]] std::string printed_on(Scancode place) const {
    const auto found = printed.find(place);
    return found != printed.end() ? found->second : std::string(find_caption(place));
  }
  /// "Q", "Ctrl + Home".
  [[nodiscard]] std::string of(const Chord& chord) const {
    return std::string(chord.modifiers.control ? "Ctrl + " : "") +
           (chord.modifiers.shift ? "Shift + " : "") + printed_on(chord.key);
  }
  /// Of what lies on `usual` for a mouse in the right hand, if nothing was re-assigned.
  [[nodiscard]] std::string of(Scancode usual, Modifiers held = {}) const {
    const auto all = room_keys();
    const auto found = std::find_if(all.begin(), all.end(), [&](const KeyBinding& each) {
      return each.key == usual && each.modifiers == held;
    });
    if (found == all.end()) return of(Chord{usual, held});
    return of(keys.chord_of(static_cast<std::size_t>(found - all.begin())));
  }
  [[nodiscard]] std::string of(char letter) const { return of(hid::letter(letter)); }
};

}  // namespace redress::screens::examine
