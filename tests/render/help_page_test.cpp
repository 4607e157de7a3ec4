// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The page of hands and keys: it fits where it is shown, for either hand, and its settings turn.
#include <vector>

#include <catch2/catch.hpp>

#include "render/screens/examine/help_page.hpp"
#include "tests/render/headless_ui.hpp"

using namespace redress::screens;
using namespace redress::screens::examine;
using redress::test::HeadlessUi;

namespace {

using redress::window::Key;

constexpr WindowSize kCompact{1280, 720, 2};

std::size_t find_act(std::string_view words) {
  std::size_t i = 0;
  while (i < room_keys().size() && room_keys()[i].words != words) ++i;
  REQUIRE(i < room_keys().size());
  return i;
}

}  // namespace

TEST_CASE("the page of keys: all words fit, at every size, in both themes and hands, both tabs") {
  for (const WindowSize& size :
       std::vector<WindowSize>{{1920, 1080, 1}, {1440, 900, 1}, {1280, 720, 1}, kCompact}) {
    for (const Theme theme : {Theme::light, Theme::dim}) {
      for (const bool mirrored : {false, true}) {
        HelpPageState state;
        KeyCaptions captions;
        captions.keys.set_mirrored(mirrored);
        HeadlessUi ui(size, theme);
        const auto draw = [&](Ui& u) {
          draw_help_page(u, make_study_layout(size), captions, state);
        };
        ui.settle(draw);
        INFO(size.width_px << " at " << size.scale);
        CHECK(ui.misfits() == "");
        CHECK(ui.probe().shows(mirrored ? "K, ; once more" : "A, D once more"));
        ui.click("Change keys", draw);
        CHECK(ui.misfits() == "");
        CHECK(ui.probe().shows("prism weaker"));
      }
    }
  }
}

TEST_CASE("the page of keys: help for hands is turned on there, and Back leads back") {
  for (const WindowSize& size : {WindowSize{1440, 900, 1}, kCompact}) {
    HelpPageState state;
    KeyCaptions captions;
    bool back = false;
    HeadlessUi ui(size);
    const auto draw = [&](Ui& u) {
      back = draw_help_page(u, make_study_layout(size), captions, state) || back;
    };
    ui.click("A click takes the occluder, the next lets it go", draw);
    CHECK(state.click_holds);
    CHECK_FALSE(state.one_key_at_a_time);
    ui.click("One key at a time: Shift and Ctrl wait for the next key", draw);
    CHECK(state.one_key_at_a_time);
    CHECK_FALSE(back);
    ui.click(size.scale > 1 ? "Back" : "Back to the patient", draw);
    CHECK(back);
  }
}

TEST_CASE("a row is chosen and a key pressed: it is there, or it is said whose the key is") {
  const WindowSize size{1440, 900, 1};
  HelpPageState state;
  state.changes_keys = true;
  KeyCaptions captions;
  HeadlessUi ui(size);
  const auto draw = [&](Ui& u) { draw_help_page(u, make_study_layout(size), captions, state); };
  ui.click("prism weaker", draw);
  CHECK(state.moving == find_act("prism weaker"));
  CHECK(ui.probe().shows("press its new key"));
  CHECK(ui.ui().typing());  // no key is anything else meanwhile
  take_new_key({hid::letter('E'), {}}, captions, state);
  ui.settle(draw);
  CHECK(ui.probe().shows("E is the key of “prism stronger”."));
  CHECK(state.moving);
  CHECK(captions.keys.is_usual());
  take_new_key({hid::letter('Y'), {}}, captions, state);
  ui.settle(draw);
  CHECK(ui.probe().shows("“prism weaker” is on Y now."));
  CHECK_FALSE(state.moving);
  CHECK(captions.of('Q') == "Y");
  ui.settle(draw);
  CHECK_FALSE(ui.ui().typing());
  ui.click("Usual keys", draw);
  CHECK(captions.keys.is_usual());
  CHECK(captions.of('Q') == "Q");
  ui.click("story", draw);
  take_new_key({hid::kEscape, {}}, captions, state);
  CHECK_FALSE(state.moving);
  CHECK(captions.keys.is_usual());
}

TEST_CASE("what the page says of keys follows what was re-assigned") {
  KeyCaptions captions;
  const auto shows = [&](std::string_view keys, std::string_view words) {
    for (const HelpLine& line : make_help_lines(captions)) {
      if (line.keys == keys && line.words.find(words) != std::string::npos) return true;
    }
    return false;
  };
  CHECK(shows("F1 to F6", "target distance"));
  REQUIRE_FALSE(captions.keys.assign(find_act("distance 6 m"), {hid::letter('Y'), {}}));
  CHECK(shows("F1, Y, F3, F4, F5, F6", "target distance"));
  REQUIRE_FALSE(captions.keys.assign(find_act("say the last again"), {hid::letter('U'), {}}));
  CHECK(shows("X then 1 to 8", "U repeats the last"));
  REQUIRE_FALSE(captions.keys.assign(find_act("record card"), {hid::kF1 + 6, {}}));
  CHECK(shows("F7, /", "or F7 twice"));
  // The drawn keyboard shows what lies there now, and nothing where nothing does.
  REQUIRE_FALSE(captions.keys.assign(find_act("story"), {hid::kF1 + 7, {}}));
  REQUIRE_FALSE(captions.keys.assign(find_act("kind of prism"), {hid::letter('H'), {}}));
  REQUIRE_FALSE(captions.keys.assign(find_act("tasks"), {hid::kDigit1 + 4, {}}));
  HelpPageState state;
  HeadlessUi ui({1440, 900, 1});
  ui.settle([&](Ui& u) { draw_help_page(u, make_study_layout(ui.size()), captions, state); });
  CHECK(ui.probe().shows("tasks"));
  CHECK_FALSE(ui.probe().shows("kind of prism"));
}
