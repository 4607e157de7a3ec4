// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The mouse alone, not one key: a patient is examined from the story to the card that is handed in,
// written in rows; what a key does has a place to click as well.
#include <string>
#include <string_view>

#include <catch2/catch.hpp>

#include "render/screens/debrief/debrief_model.hpp"
#include "render/screens/examine/screen.hpp"
#include "tests/render/room_on_screen.hpp"

using namespace redress;
using namespace redress::app;
using redress::screens::WindowSize;
using redress::test::RoomOnScreen;
namespace ex = redress::screens::examine;

namespace {

constexpr WindowSize kSmall{1280, 720, 1};

class Mouse {
 public:
  explicit Mouse(WindowSize size) : on(size) {}

  void point_at(Eye eye) {
    constexpr double kEyeMm = 31.5;
    const screens::ExamineLayout layout = screens::make_examine_layout(on.ui.size(), true);
    const ex::ViewFrame frame = ex::to_frame(layout, on.ui.size().scale);
    const double sideways = (eye == Eye::right ? -1 : 1) * kEyeMm * frame.pixels_per_mm;
    x_ = static_cast<double>(layout.view.x) + frame.eyes_x_px + sideways;
    y_ = static_cast<double>(layout.view.y) + frame.eyes_y_px;
    on.at(on.now_ms(), window::input::PointerMove{x_, y_});
    on.run_for(30);
  }
  void hold(bool held) {
    on.at(on.now_ms(), window::input::PointerButton{window::MouseButton::left, held, x_, y_});
    on.run_for(30);
  }
  void cover_and_uncover(int times) {
    for (int i = 0; i < times; ++i) {
      for (const Eye eye : kBothEyes) {
        point_at(eye);
        hold(true);
        on.run_for(3300);
        hold(false);
        on.run_for(3000);
      }
    }
  }
  void alternate(int transfers) {
    Eye at = Eye::right;
    point_at(at);
    hold(true);
    on.run_for(3300);
    for (int i = 0; i < transfers; ++i) {
      at = fellow(at);
      point_at(at);
      on.run_for(1300);
    }
  }
  /// Held by the other hand while the mouse is at the bar: it stays before the eye.
  void leave_there() {
    on.at(on.now_ms(), window::input::PointerButton{window::MouseButton::right, true, x_, y_});
    on.at(on.now_ms(), window::input::PointerButton{window::MouseButton::right, false, x_, y_});
    on.at(on.now_ms(), window::input::PointerButton{window::MouseButton::left, false, x_, y_});
    on.run_for(60);
  }
  void lower() {
    hold(false);
    on.run_for(2000);
  }
  /// By the words on it, or the end of its id.
  void click(std::string_view words, int times = 1) {
    std::string which(words);
    for (const screens::ProbedPart& part : on.ui.probe().parts()) {
      if (part.id.ends_with("/" + std::string(words))) which = part.id;
    }
    scroll_to(which);
    for (int i = 0; i < times; ++i) on.click(which);
  }
  void measure(int first_clicks, int more) {
    click("Other hand");
    click("In");
    click("Take it up");
    click("Stronger", first_clicks);
    for (int i = 0; i <= more; ++i) {
      alternate(5);
      lower();
      if (i < more) click("Stronger");
    }
    click("Put away");
    click("Other hand");
  }
  /// Steppers go along the bar, a click each.
  void write(int size, int neutral_clicks, int reversal_clicks) {
    click("movement/Phoria");
    click("across/Exo");
    click("size/more", size);
    click("recovery/Rapid");
    click("neutral/more", neutral_clicks);
    click("in or out/in");
    click("reversal/more", reversal_clicks);
  }

  RoomOnScreen on;

 private:
  /// Turns the wheel over the column in which the part stands until it is in view.
  void scroll_to(const std::string& which) {
    constexpr float kAboveFooter = 120;
    for (int i = 0; i < 60; ++i) {
      on.frame();
      const auto centre = on.ui.probe().find_centre(which);
      REQUIRE(centre);
      const bool on_page = on.room.shows_whole_card() && !which.ends_with("debrief");
      if (!on_page || centre->y < on.ui.ui().size().y - kAboveFooter) return;
      on.at(on.now_ms(), window::input::PointerMove{static_cast<double>(centre->x),
                                                    0.5 * on.ui.size().height_px});
      on.at(on.now_ms(), window::input::Wheel{-1, 0});
      on.run_for(50);
    }
  }
  double x_ = 0;
  double y_ = 0;
};

}  // namespace

TEST_CASE("a whole examination by the mouse alone, without one key") {
  Mouse mouse(kSmall);
  mouse.click("Story");
  mouse.on.run_for(2000);
  mouse.click("Story");
  mouse.click("Say or ask");
  for (const std::string_view words : {"Beginning", "Tired eyes", "Look at the target"}) {
    mouse.click(words);
    mouse.on.run_for(2000);
  }
  mouse.click("Say or ask");
  mouse.on.run_for(3300);

  mouse.cover_and_uncover(2);
  mouse.alternate(8);
  mouse.lower();
  mouse.measure(2, 2);  // 4, 6, 8 base in
  mouse.write(6, 4, 5);

  mouse.click("Target");
  mouse.click("40 cm");
  mouse.click("Target");
  mouse.on.run_for(2500);
  mouse.cover_and_uncover(2);
  mouse.alternate(8);
  mouse.lower();
  mouse.measure(0, 2);  // from where the bar was: 8, 10, 12
  mouse.write(9, 6, 7);

  mouse.click("Impression and plan");
  mouse.click("impression exophoria");
  mouse.click("plan No treatment needed");
  mouse.click("how soon/Routine");
  mouse.click("Finish and see the debrief");
  REQUIRE(mouse.on.outcome.finished);
  const auto debrief = screens::debrief::make_debrief(mouse.on.room.record_text());
  REQUIRE(debrief.ok());
  for (const auto& mark : debrief.value().marks) {
    if (mark.marks < mark.max) UNSCOPED_INFO(mark.title << ": " << mark.marks << ", " << mark.why);
  }
  CHECK(debrief.value().total >= 95);
}

TEST_CASE("the page of keys, the coach and the turn of the occluder can be had with the mouse") {
  Mouse mouse(kSmall);
  mouse.click("My view");
  mouse.click("Hands and keys");
  CHECK(mouse.on.room.session().drawer() == ex::Drawer::help);
  mouse.click("Back to the patient");
  CHECK(mouse.on.room.session().drawer() == ex::Drawer::none);
  CHECK(mouse.on.room.mode() == Mode::guided);
  mouse.click("My view");
  mouse.click("What comes next");
  CHECK(mouse.on.room.mode() == Mode::free);
  mouse.point_at(Eye::right);
  mouse.hold(true);
  mouse.on.run_for(1000);
  mouse.leave_there();
  const double roll = mouse.on.room.session().live().room().occluder.pose.roll_deg;
  mouse.click("Clockwise");
  mouse.on.run_for(500);
  CHECK(mouse.on.room.session().live().room().occluder.pose.roll_deg != roll);
}
