// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Buttons that go up where nobody hears it. When the window loses the keys while a button is down,
// the window system gives up the pointer as well: the release goes elsewhere, the window library
// goes on believing in a pressed button and keeps the next press to itself, since for it nothing
// changed. Here what is really pressed is compared with what is believed. A plain value.
#pragma once

#include <array>
#include <vector>

#include "render/window/input.hpp"

namespace redress::window {

/// By MouseButton.
using ButtonsDown = std::array<bool, 3>;

class LostButtons {
 public:
  struct Change {
    MouseButton button = MouseButton::left;
    bool down = false;
    bool operator==(const Change&) const = default;
  };

  /// The keys are lost with these down.
  void lose(const ButtonsDown& believed);
  /// What nobody told: a lost button that went up, or down again.
  std::vector<Change> follow(const ButtonsDown& believed, const ButtonsDown& real);
  [[nodiscard]] bool any() const;

 private:
  struct Lost {
    bool lost = false;
    bool down = true;  // as told so far
  };
  std::array<Lost, 3> buttons_;
};

}  // namespace redress::window
