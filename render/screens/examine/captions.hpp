// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// What stands on the keys: keys are places, captions show the letter that this keyboard prints
// there, for the hand that holds the mouse.
#pragma once

#include <map>
#include <string>

#include "render/screens/examine/keys.hpp"

namespace redress::screens::examine {

struct KeyCaptions {
  std::map<Scancode, std::string> printed;  ///< where it is known; the rest as on a US keyboard
  bool mirrored = false;                    ///< mouse in the left hand

  /// Of the key that does here what `usual` does for a mouse in the right hand.
  [[nodiscard]] std::string of(Scancode usual) const {
    Scancode place = usual;
    if (mirrored) {
      // Only left and right keep their sense on the screen: K covers the eye on the left.
      if (usual == hid::letter('A')) place = hid::letter('D');
      if (usual == hid::letter('D')) place = hid::letter('A');
      place = mirror_key(place);
    }
    const auto found = printed.find(place);
    return found != printed.end() ? found->second : std::string(find_caption(place));
  }
  [[nodiscard]] std::string of(char letter) const { return of(hid::letter(letter)); }
};

}  // namespace redress::screens::examine
