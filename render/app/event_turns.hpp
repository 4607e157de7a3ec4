// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Events in the order in which they came, shared out among frames. What a key or a click opens has
// the keys that come after it, but a screen only has them once it was drawn: so what is typed after
// such an event waits for the next frame, and for a text field until it takes letters. At a high
// frame rate nothing ever waits; at a low one nothing is lost or goes to the wrong place. A plain
// value, knows no window.
#pragma once

#include <cstddef>
#include <optional>
#include <vector>

#include "render/window/input.hpp"

namespace redress::app {

/// A key that goes down, or letters.
bool is_typed(const window::InputEvent& event);
/// On any screen it can change who has the keys: Esc, Tab, Enter, a button of the mouse.
bool can_move_focus(const window::InputEvent& event);
/// Where the turn of the frame ends after the event at `index`, which moved the focus: before what
/// is typed next, letters that the same key wrote left out.
std::size_t find_turn_end(const std::vector<window::InputEvent>& events, std::size_t index);
/// The same where only can_move_focus() says what moves it.
std::size_t find_turn_end(const std::vector<window::InputEvent>& events);

class EventTurns {
 public:
  void add(const window::InputEvent& event) { waiting_.push_back(event); }
  /// A frame begins: what has its turn. While the focus is on its way nothing typed has, but not
  /// for longer than a field takes to get it; nor while a field still has letters to take.
  std::vector<window::InputEvent> take(bool keys_are_settled, bool field_has_more);
  /// From `count` on, what was taken last waits for the next frame after all.
  void put_back(std::vector<window::InputEvent>& taken, std::size_t count);

  [[nodiscard]] bool has_more() const { return !waiting_.empty(); }
  /// When the first that waits came.
  [[nodiscard]] std::optional<double> waiting_since_ms() const;

 private:
  static constexpr int kMostFrames = 6;

  std::vector<window::InputEvent> waiting_;
  int frames_held_ = 0;
};

}  // namespace redress::app
