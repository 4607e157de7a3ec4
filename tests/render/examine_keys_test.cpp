// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Keys of the room, against the table in the design of the screens, section 3.
#include <set>
#include <stdexcept>
#include <string>
#include <tuple>

#include <catch2/catch.hpp>

#include "render/screens/examine/captions.hpp"
#include "render/screens/examine/key_map.hpp"

using namespace redress::screens::examine;
using hid::letter;

namespace {

std::optional<Order> find_order(Scancode key, Modifiers held, bool mirrored = false) {
  return KeyMap(mirrored).find_order({key, held});
}

std::size_t find_act(std::string_view words) {
  for (std::size_t i = 0; i < room_keys().size(); ++i) {
    if (room_keys()[i].words == words) return i;
  }
  throw std::runtime_error("no act is called " + std::string{words});
}

}  // namespace

TEST_CASE("no key has two orders") {
  std::set<std::tuple<Scancode, bool, bool>> seen;
  for (const KeyBinding& b : room_keys()) {
    INFO("key " << find_caption(b.key));
    CHECK(seen.insert({b.key, b.modifiers.shift, b.modifiers.control}).second);
  }
}

TEST_CASE("every key has a caption, so that a shelf can show it") {
  for (const KeyBinding& b : room_keys()) CHECK_FALSE(find_caption(b.key).empty());
  CHECK(find_caption(letter('Q')) == "Q");
  CHECK(find_caption(hid::kDigit1 + 9) == "0");
  CHECK(find_caption(hid::kF1 + 11) == "F12");
}

TEST_CASE("hands and voice are where the table says") {
  CHECK(find_order(letter('A'), {}) == Order{Command::cover_left_side});
  CHECK(find_order(letter('D'), {}) == Order{Command::cover_right_side});
  CHECK(find_order(letter('W'), {}) == Order{Command::take_upwards});
  CHECK(find_order(letter('S'), {}) == Order{Command::take_downwards});
  CHECK(find_order(hid::kSpace, {}) == Order{Command::transfer});
  CHECK(find_order(letter('Q'), {}) == Order{Command::prism_step, -1});
  CHECK(find_order(letter('E'), {}) == Order{Command::prism_step, 1});
  CHECK(find_order(hid::kF1 + 1, {}) == Order{Command::target_distance, 1});
  CHECK(find_order(hid::kKeypad1 + 3, {}) == Order{Command::gaze, 4});
  CHECK(find_order(hid::kLeft, {.shift = true}) == Order{Command::move_occluder, -5, 0});
  CHECK(find_order(hid::kLeft, {.control = true}) == Order{Command::lean, -20, 0});
  CHECK_FALSE(find_order(letter('Y'), {}));
}

TEST_CASE("Shift slows a motion and changes nothing else") {
  CHECK(find_order(letter('A'), {.shift = true}) == Order{Command::cover_left_side});
  CHECK(find_order(hid::kSpace, {.shift = true}) == Order{Command::transfer});
  CHECK_FALSE(find_order(letter('Q'), {.shift = true}));
  CHECK_FALSE(find_order(letter('A'), {.control = true}));
}

TEST_CASE("the mirrored block: each key changes place, and mirroring twice is nothing") {
  for (Scancode key = 4; key < 100; ++key) CHECK(mirror_key(mirror_key(key)) == key);
  CHECK(mirror_key(letter('Q')) == letter('P'));
  CHECK(mirror_key(letter('B')) == letter('N'));
  CHECK(mirror_key(hid::kDigit1 + 4) == hid::kMinus);
  // Only left and right keep their sense on the screen.
  CHECK(find_order(letter('K'), {}, true) == Order{Command::cover_left_side});
  CHECK(find_order(hid::kSemicolon, {}, true) == Order{Command::cover_right_side});
  CHECK(find_order(letter('I'), {}, true) == Order{Command::prism_step, 1});
  CHECK(find_order(hid::kDigit1 + 6, {}, true) == Order{Command::prism_base, 0});
}

TEST_CASE("captions follow the keyboard and the hand: what they name does what they say") {
  KeyCaptions captions;
  CHECK(captions.of('Q') == "Q");
  captions.printed = {{letter('Q'), "A"}, {letter('A'), "Q"}, {hid::kSemicolon, "M"}};
  CHECK(captions.of('Q') == "A");  // a French keyboard
  CHECK(captions.of('W') == "W");
  captions.keys.set_mirrored(true);
  CHECK(captions.of('E') == "I");
  CHECK(captions.of(hid::kDigit1) == "7");
  // The pair that keeps its sense on the screen.
  CHECK(captions.of('A') == "K");
  CHECK(captions.of('D') == "M");
  CHECK(find_order(letter('K'), {}, true) == find_order(letter('A'), {}));
  // Ctrl is the other hand's: the sections of the card stay on 1 to 6.
  CHECK(captions.of(hid::kDigit1, {.control = true}) == "Ctrl + 1");
  CHECK(find_order(hid::kDigit1, {.control = true}, true) == Order{Command::record_section, 1, 0});
}

TEST_CASE("every act has words of its own, which are its name where keys are kept") {
  std::set<std::string_view> seen;
  for (const KeyBinding& b : room_keys()) {
    INFO(b.words);
    CHECK_FALSE(b.words.empty());
    CHECK(seen.insert(b.words).second);
  }
}

TEST_CASE("a key is re-assigned: the act follows, its old key is free, captions say so") {
  for (const bool mirrored : {false, true}) {
    KeyCaptions captions;
    captions.keys = KeyMap(mirrored);
    KeyMap& keys = captions.keys;
    const std::size_t weaker = find_act("prism weaker");
    const Chord before = keys.chord_of(weaker);
    const Chord wanted{hid::kF1 + 7, {}};
    REQUIRE_FALSE(keys.assign(weaker, wanted));
    CHECK(keys.find_order(wanted) == Order{Command::prism_step, -1});
    CHECK_FALSE(keys.find_order(before));
    CHECK(captions.of('Q') == "F8");
    CHECK_FALSE(keys.is_usual());
    // What was freed can be had, with modifiers as well.
    REQUIRE_FALSE(keys.assign(find_act("story"), before));
    REQUIRE_FALSE(keys.assign(find_act("tasks"), {before.key, {.shift = true, .control = true}}));
    CHECK(captions.of('J') == "Ctrl + Shift + " + captions.printed_on(before.key));
    keys.use_usual();
    CHECK(keys == KeyMap(mirrored));
  }
}

TEST_CASE("the covers keep their sides on the screen wherever they are put") {
  KeyMap keys(true);
  const std::size_t left = find_act("cover, left side");
  REQUIRE_FALSE(keys.assign(left, {letter('E'), {}}));
  CHECK(keys.find_order({letter('E'), {}}) == Order{Command::cover_left_side});
  CHECK(keys.chord_of(left) == Chord{letter('E'), {}});
  CHECK(keys.find_order({hid::kSemicolon, {}}) == Order{Command::cover_right_side});
  CHECK(keys.find_order({letter('E'), {.shift = true}}) == Order{Command::cover_left_side});
}

TEST_CASE("a clash is refused and names the other act, nothing is changed") {
  using Why = KeyRefusal::Why;
  const KeyMap usual;
  KeyMap keys;
  const auto refused = [&](std::string_view words, Chord wanted, Why why, std::string_view by) {
    const auto refusal = keys.assign(find_act(words), wanted);
    INFO(words << " on " << find_caption(wanted.key));
    REQUIRE(refusal);
    CHECK(refusal->why == why);
    if (!by.empty()) CHECK(room_keys()[refusal->by].words == by);
    CHECK(keys == usual);
  };
  refused("prism weaker", {letter('E'), {}}, Why::taken, "prism stronger");
  refused("story", {letter('Z'), {.shift = true}}, Why::taken, "closer view of the other eye");
  // With Shift the occluder's keys are slow: their places are taken twice.
  refused("story", {letter('A'), {.shift = true}}, Why::taken_slow, "cover, left side");
  refused("lift up", {letter('Y'), {.shift = true}}, Why::shift_slows, "");
  refused("story", {hid::kEscape, {}}, Why::reserved, "");
  refused("story", {hid::kTab, {.shift = true}}, Why::reserved, "");
  refused("story", {0x65, {}}, Why::reserved, "");  // a key without a name
  refused("close, back to the room", {letter('Y'), {}}, Why::reserved, "");
  REQUIRE_FALSE(keys.assign(find_act("closer, back"), {letter('Y'), {}}));
  // Z is free, Shift + Z is not: it would be the slow lifting.
  const auto refusal = keys.assign(find_act("lift up"), {letter('Z'), {}});
  REQUIRE(refusal);
  CHECK(room_keys()[refusal->by].words == "closer view of the other eye");
  // Where it lies already is no clash with itself.
  CHECK_FALSE(keys.assign(find_act("closer, back"), {letter('Y'), {}}));
}

TEST_CASE("own keys go out and come back, also two that changed places, what cannot be is named") {
  const std::vector<OwnKey> swapped{{"prism weaker", {letter('E'), {}}},
                                    {"prism stronger", {letter('Q'), {}}}};
  KeyMap keys;
  CHECK_FALSE(keys.use(swapped));
  CHECK(keys.find_order({letter('E'), {}}) == Order{Command::prism_step, -1});
  CHECK(keys.own() == swapped);
  KeyMap again(true);
  CHECK_FALSE(again.use(keys.own()));
  CHECK(again.find_order({letter('I'), {}}) == Order{Command::prism_step, -1});
  const KeyMap before = keys;
  const std::vector<std::pair<std::vector<OwnKey>, std::string>> bad{
      {{{"fly", {letter('E'), {}}}}, "no act is called “fly”"},
      {{{"story", {letter('X'), {}}}}, "“say or ask” does"},
      {{{"say or ask", {letter('H'), {}}}}, "“story” does"},
      {{{"story", {letter('Y'), {}}}, {"tasks", {letter('Y'), {}}}}, "“tasks” does"},
      {{{"story", {letter('Y'), {}}}, {"story", {letter('U'), {}}}}, "has a key already"},
      {{{"story", {hid::kEscape, {}}}}, "cannot lie on that key"},
  };
  for (const auto& [own, words] : bad) {
    const auto trouble = keys.use(own);
    INFO(words);
    REQUIRE(trouble);
    CHECK(trouble->words.find(words) != std::string::npos);
    CHECK(keys == before);
  }
}
