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

TEST_CASE("the page of keys: all words fit, at the sizes that have it, in both themes and hands") {
  for (const WindowSize& size :
       std::vector<WindowSize>{{1920, 1080, 1}, {1440, 900, 1}, {1280, 720, 1}}) {
    for (const Theme theme : {Theme::light, Theme::dim}) {
      for (const bool mirrored : {false, true}) {
        HelpPageState state;
        KeyCaptions captions;
        captions.mirrored = mirrored;
        HeadlessUi ui(size, theme);
        ui.settle([&](Ui& u) { draw_help_page(u, make_study_layout(size), captions, state); });
        for (const ProbedText& t : ui.probe().texts()) {
          INFO(size.width_px << " " << t.text);
          CHECK(t.fits);
        }
        CHECK(ui.probe().shows(mirrored ? "K, ; once more" : "A, D once more"));
      }
    }
  }
}

TEST_CASE("the page of keys: help for hands is turned on there, and Back leads back") {
  const WindowSize size{1440, 900, 1};
  HelpPageState state;
  bool back = false;
  HeadlessUi ui(size);
  const auto draw = [&](Ui& u) {
    back = draw_help_page(u, make_study_layout(size), {}, state) || back;
  };
  ui.click("A click takes the occluder, the next lets it go", draw);
  CHECK(state.click_holds);
  CHECK_FALSE(state.one_key_at_a_time);
  CHECK_FALSE(back);
  ui.click("Back to the patient", draw);
  CHECK(back);
}
