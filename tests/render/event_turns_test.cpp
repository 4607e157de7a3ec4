// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Whose turn it is: what is typed after an event that moves the focus waits, in its order.
#include "render/app/event_turns.hpp"

#include <catch2/catch.hpp>

using namespace redress;
using namespace redress::app;
using window::Key;
namespace in = redress::window::input;

namespace {

window::InputEvent down(Key key, double at = 0) {
  return {at, {}, in::KeyChange{key, true, false}};
}
window::InputEvent up(Key key) { return {0, {}, in::KeyChange{key, false, false}}; }
window::InputEvent text(const char* letters) { return {0, {}, in::Text{letters}}; }
window::InputEvent press() {
  return {0, {}, in::PointerButton{window::MouseButton::left, true, 1, 2}};
}
window::InputEvent release() {
  return {0, {}, in::PointerButton{window::MouseButton::left, false, 1, 2}};
}
window::InputEvent move() { return {0, {}, in::PointerMove{1, 2}}; }

EventTurns turns_of(const std::vector<window::InputEvent>& events) {
  EventTurns turns;
  for (const window::InputEvent& event : events) turns.add(event);
  return turns;
}

}  // namespace

TEST_CASE("turns: one ends before what is typed after a key that moves the focus") {
  const std::vector<window::InputEvent> events{down(Key::slash), text("/"),    up(Key::slash),
                                               move(),           down(Key::a), text("a")};
  CHECK(find_turn_end(events, 0) == 4);
  // Nothing is typed later: nothing has to wait.
  const std::vector<window::InputEvent> alone{down(Key::escape), up(Key::escape), move()};
  CHECK(find_turn_end(alone, 0) == 3);
  CHECK(find_turn_end(alone) == 3);
  const std::vector<window::InputEvent> plain{down(Key::a), text("a"), down(Key::b)};
  CHECK(find_turn_end(plain) == 3);
  const std::vector<window::InputEvent> clicked{
      {0, {}, in::PointerButton{window::MouseButton::left, true, 1, 2}}, text("a")};
  CHECK(find_turn_end(clicked) == 1);
}

TEST_CASE("turns: what was put back comes first in the next frame, in its order") {
  EventTurns turns = turns_of({down(Key::escape, 10), down(Key::t, 20), move()});
  auto taken = turns.take(true, false);
  REQUIRE(taken.size() == 3);
  CHECK_FALSE(turns.has_more());
  turns.put_back(taken, 1);
  CHECK(taken.size() == 1);
  CHECK(turns.waiting_since_ms() == 20);
  turns.add(down(Key::e, 30));
  const auto next = turns.take(true, false);
  REQUIRE(next.size() == 3);
  CHECK(next[0].at_ms == 20);
  CHECK(next[2].at_ms == 30);
}

TEST_CASE("turns: while the focus is on its way what is typed waits, but not for ever") {
  EventTurns turns = turns_of({move(), down(Key::a), move()});
  CHECK(turns.take(false, false).size() == 1);
  int frames = 1;
  while (turns.take(false, false).empty() && frames < 100) ++frames;
  CHECK(frames < 10);
  CHECK_FALSE(turns.has_more());
  // A button that is pressed meanwhile waits as well, and what follows it.
  EventTurns pressed = turns_of({move(), press(), move(), release()});
  CHECK(pressed.take(false, false).size() == 1);
  CHECK(pressed.take(false, false).empty());
  CHECK(pressed.take(true, false).size() == 3);
  // It needs no field to take its letters first.
  CHECK(turns_of({press()}).take(true, true).size() == 1);
  // Letters that a field has not taken yet are always waited for.
  EventTurns letters = turns_of({down(Key::escape)});
  for (int i = 0; i < 50; ++i) CHECK(letters.take(true, true).empty());
  CHECK(letters.take(true, false).size() == 1);
}
