// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// From the window's events to what the hands in the room understand. Pure.
#pragma once

#include <vector>

#include "render/screens/examine/input.hpp"
#include "render/screens/layout.hpp"
#include "render/window/input.hpp"
#include "sim/room/act.hpp"

namespace redress::app {

/// What of the room decides to whom an event belongs.
struct RoomInputPlace {
  screens::ExamineLayout layout;
  float scale = 1;
  bool drawer_open = false;
  bool keys_are_hands = true;  ///< false: a field or a part has them
  bool over_part = false;      ///< the pointer is over a part that lies on the view
};

/// For hands that cannot hold one thing while doing another.
struct HandHelp {
  bool one_key_at_a_time = false;  ///< Shift and Ctrl wait for the next key
  bool click_holds = false;        ///< one click takes the occluder, another lets it go
  bool operator==(const HandHelp&) const = default;
};

class RoomInput {
 public:
  void use(const HandHelp& help) { help_ = help; }
  /// What the event means in the room at this tick; nothing if it is the screen's.
  std::vector<screens::examine::Input> take(const window::InputEvent& event, Tick at,
                                            const RoomInputPlace& place);
  /// A button is down that was pressed before the patient.
  [[nodiscard]] bool holding() const { return holding_; }

 private:
  screens::examine::ControllerMoved stick_;
  HandHelp help_;
  window::Modifiers latched_;  // pressed before, for the key that comes
  bool holding_ = false;
  double x_px_ = -1;
  double y_px_ = -1;
};

}  // namespace redress::app
