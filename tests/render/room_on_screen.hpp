// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// A whole examination without a window and without a picture: events with their times go in, frames
// are drawn at any rate, and the room shares the events out as the program does.
#pragma once

#include <algorithm>
#include <deque>
#include <string>
#include <string_view>

#include "render/app/event_turns.hpp"
#include "render/app/room.hpp"
#include "tests/render/headless_ui.hpp"
#include "tests/support/places.hpp"

namespace redress::test {

class RoomOnScreen {
 public:
  explicit RoomOnScreen(screens::WindowSize size, double frame_ms = 1000.0 / 60,
                        app::RoomOptions options = {})
      : ui(size, screens::Theme::dim),
        room(read_case(), with_begin(std::move(options))),
        frame_ms_(frame_ms) {
    ui.ui().go_to(screens::Place::room);
    run_until(200);
  }

  static app::ShelvedCase read_case() {
    auto read = app::read_shelved_case(support::scenario_path("exophoria"));
    if (!read.ok()) throw std::runtime_error(read.problems().front().message);
    return std::move(read).value();
  }

  // --- what a user does, at a time of their own; in the order of the calls ---
  void at(double ms, window::InputContent content, window::Modifiers held = {}) {
    coming_.push_back({ms, held, std::move(content)});
  }
  /// Down, the letter it writes if it does, up 20 ms later.
  void key(double ms, window::Key key, std::string_view letter = {}, window::Modifiers held = {}) {
    at(ms, window::input::KeyChange{key, true, false}, held);
    if (!letter.empty()) at(ms, window::input::Text{std::string{letter}});
    at(ms, window::input::KeyChange{key, false, false});
  }
  /// Letters, digits and spaces, a key every `apart_ms`; returns the time after the last.
  double type(double ms, std::string_view words, double apart_ms = 30) {
    for (const char c : words) {
      key(ms, key_of(c), std::string_view{&c, 1});
      ms += apart_ms;
    }
    return ms;
  }
  void pad(double ms, window::PadButton button) {
    at(ms, window::input::PadPress{button, true});
    at(ms, window::input::PadPress{button, false});
  }

  void frame() {
    now_ms_ += frame_ms_;
    for (; !coming_.empty() && coming_.front().at_ms <= now_ms_; coming_.pop_front()) {
      turns_.add(coming_.front());
    }
    std::vector<window::InputEvent> events =
        turns_.take(ui.ui().keys_are_settled(), ui.ui().typing() && ui.has_more());
    turns_.put_back(events, room.advance(events, now_ms_, true, ui.ui(), ui.size()));
    for (const window::InputEvent& event : events) {
      if (!ui.ui().typing() && std::holds_alternative<window::input::Text>(event.content)) continue;
      ui.take(event);
    }
    ui.frame([&](screens::Ui& u) {
      const app::RoomOutcome now = room.draw(u, ui.size(), 4.0);
      outcome.left = outcome.left || now.left;
      outcome.finished = outcome.finished || now.finished;
      outcome.time_was_up = outcome.time_was_up || now.time_was_up;
    });
  }
  void run_until(double ms) {
    while (now_ms_ < ms) frame();
  }
  void run_for(double ms) { run_until(now_ms_ + ms); }
  /// A click in the middle of a part, now; it must be there.
  void click(std::string_view label) {
    const auto centre = scroll_to(label);
    const double x = static_cast<double>(centre.x * ui.size().scale);
    const double y = static_cast<double>(centre.y * ui.size().scale);
    at(now_ms_, window::input::PointerMove{x, y});
    at(now_ms_, window::input::PointerButton{window::MouseButton::left, true, x, y});
    at(now_ms_, window::input::PointerButton{window::MouseButton::left, false, x, y});
    run_for(6 * frame_ms_);
  }
  /// Turns the wheel in the middle of the window until the part is well in view.
  screens::Point scroll_to(std::string_view label) {
    const float bottom = ui.ui().size().y - 24;
    for (int i = 0; i < 80; ++i) {
      frame();
      const auto centre = ui.probe().find_centre(label);
      if (!centre) throw std::runtime_error("no part is labelled " + std::string{label});
      if (centre->y < bottom) return *centre;
      at(now_ms_, window::input::PointerMove{ui.size().width_px * 0.5, ui.size().height_px * 0.6});
      at(now_ms_, window::input::Wheel{-1, 0});
      run_for(3 * frame_ms_);
    }
    throw std::runtime_error("cannot scroll to " + std::string{label});
  }
  void press(window::Key key_now, std::string_view letter = {}, window::Modifiers held = {}) {
    key(now_ms_, key_now, letter, held);
    run_for(6 * frame_ms_);
  }

  template <class A>
  [[nodiscard]] std::vector<A> acts() const {
    std::vector<A> found;
    for (const Act& act : room.session().live().acts()) {
      if (const auto* a = std::get_if<A>(&act.content)) found.push_back(*a);
    }
    return found;
  }
  [[nodiscard]] double now_ms() const { return now_ms_; }

  HeadlessUi ui;
  app::Room room;
  app::RoomOutcome outcome;

 private:
  static app::RoomOptions with_begin(app::RoomOptions options) {
    options.begin_ms = 0;
    return options;
  }
  static window::Key key_of(char c) {
    const auto from = [c](char first, window::Key key) {
      return static_cast<window::Key>(static_cast<int>(key) + (c - first));
    };
    if (c >= 'a' && c <= 'z') return from('a', window::Key::a);
    if (c >= 'A' && c <= 'Z') return from('A', window::Key::a);
    if (c >= '1' && c <= '9') return from('1', window::Key::digit1);
    if (c == '0') return window::Key::digit0;
    return c == '/' ? window::Key::slash : window::Key::space;
  }

  app::EventTurns turns_;
  std::deque<window::InputEvent> coming_;
  double frame_ms_ = 0;
  double now_ms_ = 0;
};

}  // namespace redress::test
