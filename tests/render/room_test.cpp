// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The room as the program runs it, without a picture: what is typed counts in the order in which it
// was typed, however slow the frames; a controller steers a drawer; keys are re-assigned; a record
// that the disk has no room for is saved elsewhere.
#include <cstdlib>
#include <string>

#include <catch2/catch.hpp>

#include "sim/basics/file.hpp"
#include "sim/record/record_file.hpp"
#include "tests/render/room_on_screen.hpp"
#include "tests/support/temporary_folder.hpp"

using namespace redress;
using namespace redress::app;
using redress::screens::WindowSize;
using redress::test::RoomOnScreen;
using redress::window::Key;
using redress::window::PadButton;
namespace ex = redress::screens::examine;

namespace {

constexpr WindowSize kUsual{1440, 900, 1};
constexpr WindowSize kCompact{1280, 720, 2};
constexpr double kTenAFrame = 100;  // ms: ten frames a second

/// Ten frames a second, sixty, and somewhere between, out of step with everything.
constexpr double kRates[] = {kTenAFrame, 1000.0 / 60, 37};

struct OwnHome {
  explicit OwnHome(const std::string& path) {
    const char* const before = std::getenv("HOME");
    if (before != nullptr) before_ = before;
    setenv("HOME", path.c_str(), 1);
  }
  ~OwnHome() { setenv("HOME", before_.c_str(), 1); }
  OwnHome(const OwnHome&) = delete;
  OwnHome& operator=(const OwnHome&) = delete;

 private:
  std::string before_;
};

}  // namespace

TEST_CASE("a finding typed right after its line was opened: every letter is in it, no hand moves") {
  for (const WindowSize& size : {kUsual, kCompact}) {
    for (const double frame_ms : kRates) {
      for (const bool twice : {false, true}) {
        for (const bool card_open : {true, false}) {
          RoomOptions options;
          options.card_open = card_open;
          RoomOnScreen on(size, frame_ms, options);
          INFO(size.scale << " " << frame_ms << " ms, N twice " << twice << ", card " << card_open);
          double at = 1013;
          if (twice) {
            on.key(at, Key::n, "n");
            on.key(at += 90, Key::n, "n");
          } else {
            on.key(at, Key::slash, "/");
          }
          at = on.type(at + 12, "6 m sc 6 XOP");
          on.key(at, Key::enter);
          on.run_until(at + 3000);
          const auto notes = on.acts<act::Note>();
          REQUIRE(notes.size() == 1);
          CHECK(notes[0].finding.horizontal_pd == -6.0);
          CHECK(notes[0].finding.distance_m == 6.0);
          CHECK(on.room.session().live().acts().size() == 1);
        }
      }
    }
  }
}

TEST_CASE("Esc and a room's key within one frame: the line is left, then the drawer opens") {
  for (const double frame_ms : kRates) {
    RoomOnScreen on(kUsual, frame_ms);
    INFO(frame_ms);
    on.key(1013, Key::slash, "/");
    on.type(1040, "6 m");
    on.key(1803, Key::escape);
    on.key(1809, Key::t, "t");
    on.run_until(2600);
    CHECK(on.room.session().drawer() == ex::Drawer::target);
    CHECK(on.acts<act::Note>().empty());
    // In the drawer's place letters are the hands' again: nothing was typed into the line.
    CHECK(on.ui.ui().place() == screens::Place::drawer);
  }
}

TEST_CASE(
    "the hands keep the times of their keys, whatever was opened between, at any frame rate") {
  std::string usual;
  for (const double frame_ms : kRates) {
    RoomOnScreen on(kUsual, frame_ms);
    on.key(1013, Key::a, "a");
    on.key(1030, Key::t, "t");
    on.key(1050, Key::escape);
    on.key(1058, Key::space, " ");
    on.key(1871, Key::f, "f");
    on.key(1907, Key::x, "x");
    on.key(1911, Key::digit6, "6");
    on.key(1919, Key::e, "e");
    on.run_until(3000);
    on.room.advance({}, 3200, true, on.ui.ui(), on.ui.size());
    const std::string record = on.room.record_text();
    INFO(frame_ms);
    CHECK(on.acts<act::Cover>().size() == 2);
    if (usual.empty()) usual = record;
    CHECK(record == usual);
  }
}

TEST_CASE("a click into a field and letters within one frame: they are in the field") {
  for (const double frame_ms : kRates) {
    RoomOnScreen on(kUsual, frame_ms);
    on.frame();
    const auto centre = on.ui.probe().find_centre("line");
    REQUIRE(centre);
    const auto x = static_cast<double>(centre->x);
    const auto y = static_cast<double>(centre->y);
    using window::input::PointerButton;
    on.at(1005, window::input::PointerMove{x, y});
    on.at(1010, PointerButton{window::MouseButton::left, true, x, y});
    on.at(1020, PointerButton{window::MouseButton::left, false, x, y});
    const double end = on.type(1030, "6 m sc 2 SOP");
    on.key(end, Key::enter);
    on.run_until(end + 3000);
    INFO(frame_ms);
    REQUIRE(on.acts<act::Note>().size() == 1);
    CHECK(on.acts<act::Note>()[0].finding.horizontal_pd == 2.0);
    CHECK(on.room.session().live().acts().size() == 1);
  }
}

TEST_CASE("a controller opens a drawer, goes through it, chooses and closes it") {
  for (const double frame_ms : kRates) {
    RoomOnScreen on(kUsual, frame_ms);
    INFO(frame_ms);
    double at = 1000;
    const auto pad = [&](PadButton button) {
      on.pad(at, button);
      on.run_until(at += 400);
    };
    pad(PadButton::left);
    REQUIRE(on.room.session().drawer() == ex::Drawer::target);
    const std::string first = [&] {
      pad(PadButton::pad_down);
      return on.ui.ui().focused();
    }();
    CHECK(first == "drawer/0.0");
    pad(PadButton::pad_right);
    pad(PadButton::pad_right);
    CHECK(on.ui.ui().focused() == "drawer/0.2");
    pad(PadButton::pad_up);
    CHECK(on.ui.ui().focused() == "drawer/0.1");
    pad(PadButton::lower);
    CHECK(on.room.session().target().kind == ex::kTargets[1].kind);
    // While it is open the pad turns no prism, and the lower button says nothing.
    CHECK(on.acts<act::HoldPrism>().empty());
    CHECK(on.acts<act::Instruct>().empty());
    // A value is changed sideways, where it has the focus.
    const double before = on.room.session().target().size_logmar;
    for (int i = 0; i < 40 && on.ui.ui().focused() != "drawer/2.0/value"; ++i) {
      pad(PadButton::pad_down);
    }
    REQUIRE(on.ui.ui().focused() == "drawer/2.0/value");
    pad(PadButton::pad_right);
    CHECK(on.room.session().target().size_logmar == Approx(before + 0.1));
    pad(PadButton::right);
    CHECK(on.room.session().drawer() == ex::Drawer::none);
    CHECK(on.ui.ui().place() == screens::Place::room);
    pad(PadButton::pad_left);
    pad(PadButton::right_bumper);
    CHECK(on.room.session().prisms().active().goal == 1);
  }
}

TEST_CASE("keys are re-assigned on their page, captions and hands follow, and it can be undone") {
  for (const WindowSize& size : {kUsual, kCompact}) {
    RoomOnScreen on(size);
    INFO(size.scale);
    on.press(Key::f12);
    on.click("Change keys");
    on.click("prism stronger");
    on.press(Key::q, "q");
    CHECK(on.ui.probe().shows("Q is the key of “prism weaker”."));
    on.press(Key::y, "y");
    CHECK(on.ui.probe().shows("“prism stronger” is on Y now."));
    on.click("record card");
    on.press(Key::f, "f", {.control = true});
    // Enter chooses a row as well, and can itself be taken.
    on.click("say the last again");
    on.press(Key::enter);
    CHECK(on.ui.probe().shows("“say the last again” is on Enter now."));
    on.press(Key::escape);
    CHECK(on.room.session().drawer() == ex::Drawer::none);
    CHECK(on.room.keys().own().size() == 2);
    CHECK(on.ui.probe().shows("Ctrl + F"));
    on.press(Key::f, "f");
    on.press(Key::y, "y");
    CHECK(on.room.session().prisms().active().goal == 1);
    on.press(Key::e, "e");
    CHECK(on.room.session().prisms().active().goal == 1);
    // The record's key twice still writes, wherever it lies.
    on.key(on.now_ms(), Key::f, "", {.control = true});
    on.key(on.now_ms() + 60, Key::f, "", {.control = true});
    on.run_for(400);
    CHECK(on.ui.ui().typing());
    on.press(Key::escape);
    on.press(Key::f12);
    on.click("Usual keys");
    CHECK(on.room.keys().is_usual());
  }
}

TEST_CASE("help for hands can be had in the smallest layout as well") {
  RoomOnScreen on(kCompact);
  on.press(Key::f12);
  on.click("A click takes the occluder, the next lets it go");
  CHECK(on.room.hand_help().click_holds);
  on.click("One key at a time: Shift and Ctrl wait for the next key");
  CHECK(on.room.hand_help().one_key_at_a_time);
  on.click("Back");
  CHECK(on.room.session().drawer() == ex::Drawer::none);
}

TEST_CASE("in the smallest layout story and tasks are pages: hands rest, keys lead on and back") {
  RoomOnScreen on({1280, 720, 2});
  const auto covers = [&] { return on.acts<act::Cover>().size(); };
  const auto drawer = [&] { return on.room.session().drawer(); };
  on.press(Key::h, "h");
  CHECK(drawer() == ex::Drawer::story);
  CHECK(on.ui.probe().find("Back to the patient") != nullptr);
  on.press(Key::a, "a");  // would cover an eye that is not seen
  CHECK(covers() == 0);
  CHECK(drawer() == ex::Drawer::story);
  on.press(Key::j, "j");
  CHECK(drawer() == ex::Drawer::tasks);
  on.press(Key::escape);
  CHECK(drawer() == ex::Drawer::none);
  on.press(Key::a, "a");
  CHECK(covers() == 1);
  on.press(Key::a, "a");
  on.press(Key::h, "h");
  on.press(Key::n, "n");
  on.run_for(200);
  CHECK(drawer() == ex::Drawer::none);
  CHECK(on.ui.ui().place() == screens::Place::card);
  on.press(Key::escape);
  on.press(Key::j, "j");
  CHECK(drawer() == ex::Drawer::tasks);
  on.pad(on.now_ms(), window::PadButton::pad_down);
  on.run_for(100);
  CHECK(drawer() == ex::Drawer::tasks);
  on.pad(on.now_ms(), window::PadButton::right);
  on.run_for(100);
  CHECK(drawer() == ex::Drawer::none);
}

TEST_CASE("on the whole card Esc ends the typing, then leads back to the patient") {
  RoomOnScreen on(kUsual);
  on.click("Impression and plan");
  REQUIRE(on.room.shows_whole_card());
  on.click("impression");
  REQUIRE(on.ui.ui().typing());
  on.press(Key::escape);
  CHECK(on.room.shows_whole_card());
  on.press(Key::escape);
  CHECK_FALSE(on.room.shows_whole_card());
  CHECK(on.ui.ui().place() == screens::Place::room);
}

TEST_CASE("a full disk is told once, and the whole record is saved where there is room") {
  // A device of Linux that has no room, ever.
  constexpr const char* kFullDisk = "/dev/full";
  for (const WindowSize& size : {kUsual, kCompact}) {
    const tests::TemporaryFolder home;
    const OwnHome own(home.path() + "/not there");
    RoomOptions options;
    options.record_path = kFullDisk;
    RoomOnScreen on(size, 1000.0 / 60, options);
    INFO(size.scale);
    on.press(Key::a, "a");
    on.run_for(12000);  // until what is written no longer fits the stream's own store
    on.press(Key::space, " ");
    on.run_for(3000);
    REQUIRE(on.room.session().live().record_problem());
    CHECK(on.ui.misfits() == "");
    REQUIRE(on.ui.probe().find_centre("Save it elsewhere"));
    // First a place that is not there: nothing is lost, and it is asked again.
    on.click("Save it elsewhere");
    CHECK(on.ui.probe().shows("That place cannot be written. Name another."));
    on.click("where");
    on.press(Key::a, "", {.control = true});
    on.at(on.now_ms(), window::input::Text{home.path() + "/kept.redress"});
    on.run_for(200);
    on.press(Key::enter);
    on.click("Save it elsewhere");
    CHECK_FALSE(on.ui.probe().find_centre("Save it elsewhere"));
    CHECK(on.room.record_path() == home.path() + "/kept.redress");
    // What was done before and after is in it, once the card is handed in.
    on.press(Key::escape);
    on.press(Key::w, "w");
    if (size.scale > 1) on.press(Key::n, "n");
    on.click("Impression and plan");
    on.click("Finish and see the debrief");
    CHECK(on.outcome.finished);
    const auto text = read_file(home.path() + "/kept.redress");
    REQUIRE(text.ok());
    CHECK(text.value() == on.room.record_text());
    const auto record = record::read_record(text.value());
    REQUIRE(record.ok());
    CHECK(record.value().end);
    CHECK(on.acts<act::Cover>().size() == 2);
    CHECK(on.acts<act::Uncover>().size() == 1);
  }
}

TEST_CASE(
    "rows are written when their writer goes back to the patient, and follow the next target") {
  RoomOnScreen on({1280, 720, 1});
  on.click("6 m sc");
  on.click("Phoria");
  on.click("Exo");
  CHECK(on.acts<act::Note>().empty());
  on.at(on.now_ms(), window::input::PointerMove{300, 300});
  on.at(on.now_ms(), window::input::PointerButton{window::MouseButton::left, true, 300, 300});
  on.run_for(500);
  on.at(on.now_ms(), window::input::PointerButton{window::MouseButton::left, false, 300, 300});
  on.run_for(1000);
  REQUIRE(on.acts<act::Note>().size() == 1);
  CHECK(on.acts<act::Note>()[0].finding.distance_m == 6.0);
  // The next is about near, not a change of what was written.
  on.press(Key::f5);
  on.run_for(500);
  on.click("Phoria");
  on.press(Key::escape);
  on.run_for(300);
  REQUIRE(on.acts<act::Note>().size() == 2);
  CHECK(on.acts<act::Note>()[1].finding.distance_m == 0.4);
}
