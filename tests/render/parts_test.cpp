// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Each part by pointer and by keys, without a window: what it answers, not how it looks.
#include "render/screens/parts/parts.hpp"

#include <imgui_internal.h>
#include <catch2/catch.hpp>

#include <array>
#include <cmath>
#include <map>
#include <string>
#include <vector>

#include "render/screens/gallery/gallery.hpp"
#include "render/screens/parts/plots.hpp"
#include "render/screens/parts/room_parts.hpp"
#include "tests/render/headless_ui.hpp"

using namespace redress;
using namespace redress::screens;
using redress::test::HeadlessUi;
using redress::window::Key;

namespace {

constexpr WindowSize kWindow{800, 600, 1};

/// Draws one part inside a region.
template <class Draw>
auto inside(Draw draw) {
  return [draw](Ui& ui) {
    ui.begin_region("test", {0, 0, 800, 600}, Token::page);
    draw(ui);
    ui.end_region();
  };
}

}  // namespace

TEST_CASE("a button answers once for one click, at every scale") {
  for (const float scale : {1.0F, 1.5F, 2.0F}) {
    HeadlessUi ui({1600, 1200, scale});
    int clicks = 0;
    const auto draw = inside([&](Ui& u) {
      if (button(u, {100, 100, 120, 36}, "Finish")) ++clicks;
    });
    ui.click("Finish", draw);
    CHECK(clicks == 1);
    ui.click(Point{400, 400}, draw);
    CHECK(clicks == 1);
  }
}

TEST_CASE("a press that is let go elsewhere is no click") {
  HeadlessUi ui(kWindow);
  int clicks = 0;
  const auto draw = inside([&](Ui& u) {
    if (button(u, {100, 100, 120, 36}, "Finish")) ++clicks;
  });
  ui.move({150, 118});
  ui.settle(draw);
  ui.button({150, 118}, true);
  ui.settle(draw);
  ui.move({500, 500});
  ui.button({500, 500}, false);
  ui.settle(draw);
  CHECK(clicks == 0);
}

TEST_CASE("a click between two slow frames is a click") {
  HeadlessUi ui(kWindow);
  int clicks = 0;
  const auto draw = inside([&](Ui& u) {
    if (button(u, {100, 100, 120, 36}, "Finish")) ++clicks;
  });
  ui.frame(draw);  // the button is on the screen
  ui.frame(draw);
  // Four clicks arrive before the next frame is drawn.
  for (int i = 0; i < 4; ++i) {
    ui.move({150, 118});
    ui.button({150, 118}, true);
    ui.button({150, 118}, false);
  }
  ui.settle(draw);
  CHECK(clicks == 4);
}

TEST_CASE("what is not available is not clicked, and says why") {
  HeadlessUi ui(kWindow);
  int clicks = 0;
  const auto draw = inside([&](Ui& u) {
    if (button(u, {100, 100, 120, 36}, "Begin", {.available = false, .why_not = "Nobody waits."})) {
      ++clicks;
    }
  });
  ui.click("Begin", draw);
  CHECK(clicks == 0);
  CHECK(ui.probe().shows("Nobody waits."));
}

TEST_CASE("Tab goes round in the order drawn, Enter and Space press") {
  HeadlessUi ui(kWindow);
  std::string pressed;
  const auto draw = inside([&](Ui& u) {
    for (const std::string label : {"A", "B", "C"}) {
      const float x = 10 + 100.0F * static_cast<float>(label[0] - 'A');
      if (button(u, {x, 10, 90, 36}, label)) pressed += label;
    }
  });
  ui.settle(draw);
  ui.press(Key::tab, draw);
  ui.press(Key::enter, draw);
  ui.press(Key::tab, draw);
  ui.press(Key::space, draw);
  ui.press(Key::tab, draw, {.shift = true});
  ui.press(Key::enter, draw);
  ui.press(Key::tab, draw, {.shift = true});
  ui.press(Key::enter, draw);
  CHECK(pressed == "ABAC");
}

TEST_CASE("a held key repeats when the system says so, not when frames are slow") {
  HeadlessUi ui(kWindow);
  int clicks = 0;
  const auto draw = inside([&](Ui& u) {
    u.go_to(Place::study);
    for (int i = 0; i < 4; ++i) {
      const std::string word(1, static_cast<char>('A' + i));
      if (button(u, {100, 100.0F + 40.0F * static_cast<float>(i), 120, 36}, word)) ++clicks;
    }
  });
  ui.take_per_frame(0.4);
  ui.frame(draw);
  ui.send(window::input::KeyChange{Key::tab, true, false});
  for (int i = 0; i < 5; ++i) ui.frame(draw);
  CHECK(ui.ui().focused() == "test/A");
  ui.send(window::input::KeyChange{Key::tab, true, true});
  for (int i = 0; i < 5; ++i) ui.frame(draw);
  CHECK(ui.ui().focused() == "test/B");
  ui.send(window::input::KeyChange{Key::tab, false, false});
  ui.settle(draw);
  // What is done by Enter is done once, however long it is held.
  ui.send(window::input::KeyChange{Key::enter, true, false});
  ui.frame(draw);
  ui.send(window::input::KeyChange{Key::enter, true, true});
  for (int i = 0; i < 5; ++i) ui.frame(draw);
  CHECK(clicks == 1);
}

TEST_CASE("in the room, Space belongs to the hand") {
  HeadlessUi ui(kWindow);
  int clicks = 0;
  const auto draw = inside([&](Ui& u) {
    u.go_to(Place::room);
    if (button(u, {10, 10, 90, 36}, "Story")) ++clicks;
  });
  ui.settle(draw);
  ui.press(Key::tab, draw);
  ui.press(Key::space, draw);
  CHECK(clicks == 0);
  ui.press(Key::enter, draw);
  CHECK(clicks == 1);
}

TEST_CASE("one of few: by click, by arrows, choosing what is chosen says nothing") {
  HeadlessUi ui(kWindow);
  constexpr std::array<std::string_view, 3> kWords{"None", "Phoria", "Tropia"};
  std::optional<std::size_t> chosen;
  int events = 0;
  const auto draw = inside([&](Ui& u) {
    if (const auto picked = one_of_few(u, {20, 20, 240, 32}, "movement", kWords, chosen)) {
      chosen = picked;
      ++events;
    }
  });
  ui.settle(draw);
  CHECK_FALSE(chosen.has_value());
  ui.click("Phoria", draw);
  CHECK(chosen == 1U);
  ui.click("Phoria", draw);
  CHECK(events == 1);
  ui.press(Key::tab, draw);
  ui.press(Key::right, draw);
  CHECK(chosen == 2U);
  ui.press(Key::right, draw);
  CHECK(chosen == 2U);
  ui.press(Key::left, draw);
  CHECK(chosen == 1U);
}

TEST_CASE("stepper: clicks, wheel, arrows, typing, a number out of range is kept and refused") {
  HeadlessUi ui(kWindow);
  std::optional<double> value;
  const Range range{0, 45, 1, 0, "Δ"};
  const auto draw = inside([&](Ui& u) {
    if (const auto v = stepper(u, {100, 100, 160, 32}, "size", value, range)) value = v;
  });
  ui.settle(draw);
  ui.click("more", draw);
  CHECK(value == 0.0);
  ui.click("more", draw);
  CHECK(value == 1.0);
  ui.wheel("size", 1, draw);
  CHECK(value == 2.0);
  ui.click("less", draw);
  CHECK(value == 1.0);
  ui.click("size", draw);
  ui.settle(draw);
  REQUIRE(ui.ui().typing());
  ui.type("60", draw);
  CHECK(ui.probe().shows("allowed: 0 to 45Δ"));
  CHECK(value == 1.0);
  ui.press(Key::backspace, draw);
  ui.press(Key::enter, draw);
  CHECK(value == 6.0);
  CHECK_FALSE(ui.ui().typing());
}

TEST_CASE("field: each key stroke is told, Enter settles, Esc keeps what was typed") {
  HeadlessUi ui(kWindow);
  std::string text;
  int changes = 0;
  int settled = 0;
  int escaped = 0;
  const auto draw = inside([&](Ui& u) {
    const FieldEvent event = field(u, {20, 20, 300, 36}, "line", text);
    changes += event.changed ? 1 : 0;
    settled += event.settled ? 1 : 0;
    escaped += event.escaped ? 1 : 0;
  });
  ui.click("line", draw);
  ui.type("8Δ", draw);
  CHECK(text == "8Δ");
  ui.type(" XOP", draw);
  CHECK(text == "8Δ XOP");
  CHECK(changes == 2);
  CHECK(ui.ui().typing());
  ui.press(Key::enter, draw);
  CHECK(settled >= 1);
  ui.click("line", draw);
  ui.press(Key::end, draw);
  ui.type(" slow", draw);
  ui.press(Key::escape, draw);
  CHECK(escaped == 1);
  CHECK(text == "8Δ XOP slow");
  CHECK_FALSE(ui.ui().typing());
}

TEST_CASE("the bar: a click on a wedge names its step") {
  HeadlessUi ui(kWindow);
  constexpr std::array<double, 5> kSteps{1, 2, 4, 10, 45};
  std::optional<std::size_t> at;
  const auto draw = inside([&](Ui& u) {
    if (const auto picked = bar_drawing(u, {20, 20, 250, 34}, "bar", kSteps, at)) at = picked;
  });
  ui.click("10Δ", draw);
  CHECK(at == 3U);
}

TEST_CASE("a list scrolls by the wheel, what was below answers where it is then") {
  HeadlessUi ui(kWindow);
  int clicked = -1;
  const auto draw = inside([&](Ui& u) {
    const float up = u.begin_scroll("rows", {0, 0, 400, 200}, 20 * 40);
    for (int i = 0; i < 20; ++i) {
      const Rect row{0, 40.0F * static_cast<float>(i) - up, 390, 38};
      if (list_row(u, row, "row " + std::to_string(i), "row " + std::to_string(i), false)) {
        clicked = i;
      }
    }
    u.end_scroll();
  });
  ui.wheel("row 2", -4, draw);  // 240 units
  ui.click(Point{100, 50}, draw);
  CHECK(clicked == 7);
  ui.click(Point{100, 300}, draw);  // outside what is clipped
  CHECK(clicked == 7);
}

TEST_CASE("a trace keeps a saccade of 40 ms though an hour is drawn in 800 pixels") {
  std::vector<float> values(3'600'000 / 4, 0.0F);
  for (std::size_t i = 500'000; i < 500'010; ++i) values[i] = 8.0F;
  const Rect r{0, 0, 800, 100};
  const TimeAxis axis{0, 3'600'000, 0, 800};
  const std::vector<Point> points = calc_trace_points(r, axis, {values, 0, 4}, 10, 1);
  float top = 100;
  for (const Point& p : points) top = std::min(top, p.y);
  CHECK(top == Approx(50 - 50 * 0.8).margin(0.01));
  CHECK(points.size() <= 2 * 801);
}

TEST_CASE("a blink is a gap: no point where there is no value") {
  std::vector<float> values(1000, 1.0F);
  for (std::size_t i = 400; i < 600; ++i) values[i] = std::nanf("");
  const std::vector<Point> points =
      calc_trace_points({0, 0, 1000, 100}, {0, 1000, 0, 1000}, {values, 0, 1}, 10, 1);
  for (const Point& p : points) CHECK_FALSE((p.x > 400 && p.x < 599));
  CHECK(points.size() > 700);
}

TEST_CASE("figures: every digit takes the same room") {
  HeadlessUi ui(kWindow);
  const auto draw = inside([&](Ui& u) {
    CHECK(u.measure_figures(TextStyle::subhead, "11:11") ==
          Approx(u.measure_figures(TextStyle::subhead, "00:48")));
    CHECK(u.measure_text(TextStyle::subhead, "11:11") <
          u.measure_text(TextStyle::subhead, "00:48"));
  });
  ui.frame(draw);
}

TEST_CASE("every sign of the screens is in the fonts, at every scale") {
  // screens.md, section 4, Type.
  const std::vector<unsigned> signs{0xC4,   0x17F,  0x394,  0x3D5,  0x3B8,  0x2032, 0x2033,
                                    0x2212, 0xD7,   0xB7,   0x2026, 0x2013, 0x201C, 0x201D,
                                    0x2190, 0x2191, 0x2192, 0x2193, 0x25CB, 0x25CF, 0x2713,
                                    0x2295, 0x2039, 0x203A, 0x25B6, 0x2605};
  for (const float scale : {1.0F, 1.25F, 2.0F}) {
    // Each comes with the first text that needs it.
    ImFontAtlas plain_atlas;
    ImFontAtlas latin_atlas;
    const std::map<Letters, Fonts> made{
        {Letters::plain, make_fonts(plain_atlas, scale)},
        {Letters::latin, make_fonts(latin_atlas, scale, Letters::latin)},
        {Letters::extended, test::shared_fonts(scale).fonts}};
    for (const auto& [letters, fonts] : made) REQUIRE(fonts.trouble.empty());
    for (const unsigned sign : signs) {
      INFO("U+" << std::hex << sign << " at scale " << scale);
      char text[5] = {};
      ImTextCharToUtf8(text, sign);
      for (const auto& [letters, fonts] : made) {
        if (letters < find_letters(text)) continue;
        for (ImFont* const font : fonts.font) {
          CHECK(font->FindGlyphNoFallback(static_cast<ImWchar>(sign)) != nullptr);
        }
      }
    }
  }
}

TEST_CASE("letters that the fonts were made without are asked for, and only those") {
  HeadlessUi ui({720, 900, 1});
  Fonts lean = test::shared_fonts(1).fonts;
  lean.letters = Letters::plain;
  for (const auto& [name, wanted] :
       {std::pair{"“Sharp”, 33 cm, −4Δ ← 90° …", Letters::plain}, std::pair{"ϕ", Letters::latin},
        std::pair{"Zoé Ängström", Letters::latin}, std::pair{"⊕", Letters::latin},
        std::pair{"Zoé Žofie", Letters::extended}, std::pair{"Łucja", Letters::extended}}) {
    ui.ui().use(lean);
    ui.frame([name = name](Ui& u) {
      u.begin_region("name", {0, 0, 400, 40}, Token::sheet);
      u.text({8, 8}, TextStyle::body, Token::ink, name);
      u.end_region();
    });
    INFO(name);
    CHECK(ui.ui().wanted_letters() == wanted);
  }
  ImFontAtlas atlas;
  CHECK(make_fonts(atlas, 1).font[0]->FindGlyphNoFallback(0xE9) == nullptr);
  CHECK(make_fonts(atlas, 1, Letters::latin).font[0]->FindGlyphNoFallback(0x17F) == nullptr);
}

TEST_CASE("all text of the parts fits, in both themes") {
  for (const Theme theme : {Theme::light, Theme::dim}) {
    HeadlessUi ui({720, 900, 1}, theme);
    GalleryModel model = make_gallery();
    const auto draw = [&](Ui& u) { draw_gallery(u, {0, 0, 720, 900}, model); };
    ui.settle(draw);
    CHECK(ui.misfits().empty());
    INFO(ui.misfits());
    CHECK(ui.probe().texts().size() > 40);
  }
}

TEST_CASE("a controller's pad goes from part to part on a page, as Tab does") {
  HeadlessUi ui({1280, 720, 1});
  const auto draw = [](Ui& u) {
    u.begin_region("page", {0, 0, 600, 300}, Token::sheet);
    button(u, {20, 20, 120, 36}, "One");
    button(u, {20, 80, 120, 36}, "Two");
    u.end_region();
  };
  ui.settle(draw);
  std::vector<std::string> way;
  for (const int step : {1, 1, 1, -1}) {
    ui.ui().step_focus(step);
    ui.settle(draw);
    way.push_back(ui.ui().focused());
  }
  CHECK(way == std::vector<std::string>{"page/One", "page/Two", "page/One", "page/Two"});
}
