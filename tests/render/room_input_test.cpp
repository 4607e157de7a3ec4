// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Whose an event is: the hand's, when it is before the patient, else the screen's.
#include "render/app/room_input.hpp"

#include <catch2/catch.hpp>

#include "render/window/event_reader.hpp"

using namespace redress;
using namespace redress::app;
namespace ex = redress::screens::examine;
namespace in = redress::window::input;

namespace {

RoomInputPlace make_place(float scale = 1) {
  RoomInputPlace place;
  place.layout = screens::make_examine_layout({1440, 900, scale}, true);
  place.scale = scale;
  return place;
}

window::InputEvent press(double x, double y, bool down = true) {
  return {0, {}, in::PointerButton{window::MouseButton::left, down, x, y}};
}

template <class Content>
std::size_t count(const std::vector<ex::Input>& inputs) {
  std::size_t n = 0;
  for (const ex::Input& input : inputs) n += std::holds_alternative<Content>(input.content);
  return n;
}

}  // namespace

TEST_CASE("a press before the patient is the hand's, on card, shelf, message or drawer it is not") {
  RoomInput input;
  RoomInputPlace place = make_place();
  CHECK(count<ex::PointerPressed>(input.take(press(400, 300), 5, place)) == 1);
  CHECK(input.holding());
  CHECK(count<ex::PointerReleased>(input.take(press(1200, 300, false), 6, place)) == 1);
  CHECK_FALSE(input.holding());
  CHECK(count<ex::PointerPressed>(input.take(press(1200, 300), 7, place)) == 0);
  CHECK(count<ex::PointerPressed>(input.take(press(400, 850), 8, place)) == 0);
  CHECK(count<ex::PointerPressed>(input.take(press(400, 760), 9, place)) == 0);
  CHECK(count<ex::PointerPressed>(input.take(press(400, 20), 10, place)) == 0);
  CHECK(count<ex::PointerPressed>(input.take(press(400, 600), 11, place)) == 1);
  place.drawer_open = true;
  CHECK(count<ex::PointerPressed>(input.take(press(400, 600), 12, place)) == 0);
}

TEST_CASE("pixels are counted from the corner of the view, at every scale") {
  for (const float scale : {1.0F, 1.25F}) {
    RoomInput input;
    const RoomInputPlace place = make_place(scale);
    const auto inputs = input.take({3, {}, in::PointerMove{400, 300}}, 17, place);
    REQUIRE(inputs.size() == 1);
    CHECK(inputs[0].at_ms == 17);
    const auto& moved = std::get<ex::PointerMoved>(inputs[0].content);
    CHECK(moved.x_px == 400);
    CHECK(moved.y_px == Approx(300 - static_cast<double>(place.layout.view.y * scale)));
  }
}

TEST_CASE("keys are the hands' only while nothing else has them, Alt is the window manager's") {
  RoomInput input;
  RoomInputPlace place = make_place();
  const window::InputEvent a{0, {}, in::KeyChange{window::Key::a, true, false}};
  CHECK(count<ex::KeyPressed>(input.take(a, 1, place)) == 1);
  place.keys_are_hands = false;
  CHECK(input.take(a, 1, place).empty());
  place.keys_are_hands = true;
  window::InputEvent with_alt = a;
  with_alt.modifiers.alt = true;
  CHECK(input.take(with_alt, 1, place).empty());
  const window::InputEvent up{0, {}, in::KeyChange{window::Key::a, false, false}};
  CHECK(input.take(up, 1, place).empty());
}

TEST_CASE("what is lost is told: focus, controller") {
  RoomInput input;
  const RoomInputPlace place = make_place();
  input.take(press(400, 300), 1, place);
  CHECK(count<ex::FocusLost>(input.take({0, {}, in::WindowFocus{false}}, 2, place)) == 1);
  CHECK_FALSE(input.holding());
  CHECK(input.take({0, {}, in::WindowFocus{true}}, 3, place).empty());
  CHECK(count<ex::ControllerUnplugged>(input.take({0, {}, in::PadConnection{false}}, 4, place)) ==
        1);
  CHECK(input.take({0, {}, in::PadConnection{true}}, 5, place).empty());
}

TEST_CASE("sticks: up is up") {
  RoomInput input;
  const RoomInputPlace place = make_place();
  const auto inputs = input.take({0, {}, in::PadMove{window::PadAxis::right_y, -0.5}}, 1, place);
  REQUIRE(inputs.size() == 1);
  CHECK(std::get<ex::ControllerMoved>(inputs[0].content).right_y == 0.5);
}

TEST_CASE("the window library's events become values with their own time") {
  SDL_Event event{};
  event.type = SDL_MOUSEMOTION;
  event.common.timestamp = 1234;
  event.motion.x = 100;
  event.motion.y = 50;
  const auto moved = window::to_input_event(event, 2.0);
  REQUIRE(moved);
  CHECK(moved->at_ms == 1234);
  CHECK(std::get<in::PointerMove>(moved->content).x_px == 200);
  CHECK(std::get<in::PointerMove>(moved->content).y_px == 100);

  event = {};
  event.type = SDL_KEYDOWN;
  event.key.state = SDL_PRESSED;
  event.key.keysym.scancode = SDL_SCANCODE_SLASH;
  event.key.keysym.mod = KMOD_LSHIFT;
  const auto key = window::to_input_event(event, 1.0);
  REQUIRE(key);
  CHECK(std::get<in::KeyChange>(key->content).key == window::Key::slash);
  CHECK(key->modifiers.shift);
  CHECK_FALSE(key->modifiers.control);

  event = {};
  event.type = SDL_CONTROLLERAXISMOTION;
  event.caxis.axis = SDL_CONTROLLER_AXIS_RIGHTX;
  event.caxis.value = 1000;  // a resting stick is never quite at rest
  const auto stick = window::to_input_event(event, 1.0);
  REQUIRE(stick);
  CHECK(std::get<in::PadMove>(stick->content).value == 0);
  event.caxis.value = 32767;
  CHECK(std::get<in::PadMove>(window::to_input_event(event, 1.0)->content).value == Approx(1));

  event = {};
  event.type = SDL_MOUSEBUTTONDOWN;
  event.button.button = SDL_BUTTON_X1;
  CHECK_FALSE(window::to_input_event(event, 1.0).has_value());
}

TEST_CASE("keys have the numbers of the USB HID tables") {
  CHECK(static_cast<int>(window::Key::a) == SDL_SCANCODE_A);
  CHECK(static_cast<int>(window::Key::z) == SDL_SCANCODE_Z);
  CHECK(static_cast<int>(window::Key::digit0) == SDL_SCANCODE_0);
  CHECK(static_cast<int>(window::Key::right_bracket) == SDL_SCANCODE_RIGHTBRACKET);
  CHECK(static_cast<int>(window::Key::semicolon) == SDL_SCANCODE_SEMICOLON);
  CHECK(static_cast<int>(window::Key::slash) == SDL_SCANCODE_SLASH);
  CHECK(static_cast<int>(window::Key::f12) == SDL_SCANCODE_F12);
  CHECK(static_cast<int>(window::Key::home) == SDL_SCANCODE_HOME);
  CHECK(static_cast<int>(window::Key::up) == SDL_SCANCODE_UP);
  CHECK(static_cast<int>(window::Key::pad_enter) == SDL_SCANCODE_KP_ENTER);
  CHECK(static_cast<int>(window::Key::pad9) == SDL_SCANCODE_KP_9);
}

TEST_CASE("one key at a time: Shift waits for the next key, and is taken back by itself") {
  constexpr auto kShift = static_cast<window::Key>(225);
  const auto key = [](window::Key k, bool down) {
    return window::InputEvent{0, {}, in::KeyChange{k, down, false}};
  };
  for (const bool helped : {false, true}) {
    RoomInput input;
    input.use({helped, false});
    const RoomInputPlace place = make_place();
    CHECK(input.take(key(kShift, true), 1, place).empty());
    CHECK(input.take(key(kShift, false), 2, place).empty());
    const auto first = input.take(key(window::Key::a, true), 3, place);
    REQUIRE(first.size() == 1);
    CHECK(std::get<ex::KeyPressed>(first[0].content).modifiers.shift == helped);
    const auto second = input.take(key(window::Key::a, true), 4, place);
    REQUIRE(second.size() == 1);
    CHECK_FALSE(std::get<ex::KeyPressed>(second[0].content).modifiers.shift);
    (void)input.take(key(kShift, true), 5, place);
    (void)input.take(key(kShift, true), 6, place);
    const auto third = input.take(key(window::Key::a, true), 7, place);
    CHECK_FALSE(std::get<ex::KeyPressed>(third.at(0).content).modifiers.shift);
  }
}

TEST_CASE("one click takes the occluder, the next lets it go, where that is wanted") {
  RoomInput input;
  input.use({false, true});
  const RoomInputPlace place = make_place();
  CHECK(count<ex::PointerPressed>(input.take(press(400, 300), 1, place)) == 1);
  CHECK(count<ex::PointerReleased>(input.take(press(400, 300, false), 2, place)) == 0);
  CHECK(input.holding());
  CHECK(count<ex::PointerMoved>(input.take({3, {}, in::PointerMove{500, 300}}, 3, place)) == 1);
  CHECK(count<ex::PointerReleased>(input.take(press(500, 300), 4, place)) == 1);
  CHECK_FALSE(input.holding());
}
