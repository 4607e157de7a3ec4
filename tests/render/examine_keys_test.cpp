// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Keys of the room, against the table in the design of the screens, section 3.
#include <set>
#include <tuple>

#include <catch2/catch.hpp>

#include "render/screens/examine/captions.hpp"
#include "render/screens/examine/keys.hpp"

using namespace redress::screens::examine;
using hid::letter;

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
  captions.mirrored = true;
  CHECK(captions.of('E') == "I");
  CHECK(captions.of(hid::kDigit1) == "7");
  // The pair that keeps its sense on the screen.
  CHECK(captions.of('A') == "K");
  CHECK(captions.of('D') == "M");
  CHECK(find_order(letter('K'), {}, true) == find_order(letter('A'), {}));
}
