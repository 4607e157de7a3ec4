// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/app/event_turns.hpp"

#include <algorithm>
#include <iterator>

namespace redress::app {

namespace in = window::input;

bool is_typed(const window::InputEvent& event) {
  if (const auto* key = std::get_if<in::KeyChange>(&event.content)) return key->down;
  return std::holds_alternative<in::Text>(event.content);
}

namespace {

// A field that is about to get the keys would take them back from what is pressed meanwhile.
bool waits_for_focus(const window::InputEvent& event) {
  const auto* button = std::get_if<in::PointerButton>(&event.content);
  return is_typed(event) || (button != nullptr && button->down);
}

}  // namespace

bool can_move_focus(const window::InputEvent& event) {
  if (std::holds_alternative<in::PointerButton>(event.content)) return true;
  const auto* key = std::get_if<in::KeyChange>(&event.content);
  if (key == nullptr || !key->down) return false;
  using window::Key;
  return key->key == Key::escape || key->key == Key::tab || key->key == Key::enter ||
         key->key == Key::pad_enter;
}

std::size_t find_turn_end(const std::vector<window::InputEvent>& events, std::size_t index) {
  std::size_t end = index + 1;
  const bool of_key = std::holds_alternative<in::KeyChange>(events[index].content);
  while (of_key && end < events.size() && std::holds_alternative<in::Text>(events[end].content)) {
    ++end;
  }
  const auto from = events.begin() + static_cast<std::ptrdiff_t>(end);
  const auto typed = std::find_if(from, events.end(), is_typed);
  return static_cast<std::size_t>(typed - events.begin());
}

std::size_t find_turn_end(const std::vector<window::InputEvent>& events) {
  const auto found = std::find_if(events.begin(), events.end(), can_move_focus);
  if (found == events.end()) return events.size();
  return find_turn_end(events, static_cast<std::size_t>(found - events.begin()));
}

std::vector<window::InputEvent> EventTurns::take(bool keys_are_settled, bool field_has_more) {
  auto end = waiting_.end();
  const bool focus_moves = !keys_are_settled && frames_held_ < kMostFrames;
  if (focus_moves || field_has_more) {
    end = std::find_if(waiting_.begin(), waiting_.end(), focus_moves ? waits_for_focus : is_typed);
  }
  frames_held_ = focus_moves ? frames_held_ + 1 : 0;
  std::vector<window::InputEvent> taken(std::make_move_iterator(waiting_.begin()),
                                        std::make_move_iterator(end));
  waiting_.erase(waiting_.begin(), end);
  return taken;
}

void EventTurns::put_back(std::vector<window::InputEvent>& taken, std::size_t count) {
  if (count >= taken.size()) return;
  const auto from = taken.begin() + static_cast<std::ptrdiff_t>(count);
  waiting_.insert(waiting_.begin(), std::make_move_iterator(from),
                  std::make_move_iterator(taken.end()));
  taken.erase(from, taken.end());
}

std::optional<double> EventTurns::waiting_since_ms() const {
  if (waiting_.empty()) return std::nullopt;
  return waiting_.front().at_ms;
}

}  // namespace redress::app
