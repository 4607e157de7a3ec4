// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/window/lost_buttons.hpp"

#include <algorithm>

namespace redress::window {

void LostButtons::lose(const ButtonsDown& believed) {
  for (std::size_t i = 0; i < buttons_.size(); ++i) {
    if (believed[i] && !buttons_[i].lost) buttons_[i] = {true, true};
  }
}

std::vector<LostButtons::Change> LostButtons::follow(const ButtonsDown& believed,
                                                     const ButtonsDown& real) {
  std::vector<Change> changes;
  for (std::size_t i = 0; i < buttons_.size(); ++i) {
    Lost& button = buttons_[i];
    if (!button.lost) continue;
    if (!believed[i]) {
      button.lost = false;  // its release was heard after all
    } else if (real[i] != button.down) {
      button.down = real[i];
      changes.push_back({static_cast<MouseButton>(i), button.down});
    }
  }
  return changes;
}

bool LostButtons::any() const {
  return std::any_of(buttons_.begin(), buttons_.end(), [](const Lost& b) { return b.lost; });
}

}  // namespace redress::window
