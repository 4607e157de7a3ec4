// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Ways of practising: guided has a coach, an exam-like run none, a fixed view, a clock that runs
// out, and a record that is handed in once; the example is a record like any other.
#include <catch2/catch.hpp>

#include <string>

#include "render/app/example.hpp"
#include "render/app/preferences.hpp"
#include "render/screens/debrief/debrief_model.hpp"
#include "tests/render/room_on_screen.hpp"

using namespace redress;
using namespace redress::app;
using redress::screens::WindowSize;
using redress::test::RoomOnScreen;
using redress::window::Key;

namespace {

constexpr WindowSize kUsual{1440, 900, 1};

RoomOptions in_mode(Mode mode) {
  RoomOptions options;
  options.mode = mode;
  return options;
}

}  // namespace

TEST_CASE("modes: the coach speaks in guided practice alone, and F9 silences it there") {
  RoomOnScreen on(kUsual, 100, in_mode(Mode::guided));
  on.run_until(2000);
  CHECK(on.ui.probe().find_centre("message/coach").has_value());
  CHECK(on.ui.probe().shows("Practice, guided"));
  on.press(Key::f9);
  on.run_until(4000);
  CHECK_FALSE(on.ui.probe().find_centre("message/coach").has_value());
  CHECK(on.ui.probe().shows("Practice, on my own"));
  CHECK(on.room.mode() == Mode::free);
}

TEST_CASE("modes: an exam-like run has no coach, one view and a clock that runs out") {
  RoomOnScreen on(kUsual, 500, in_mode(Mode::exam_like));
  on.run_until(3000);
  CHECK_FALSE(on.ui.probe().find_centre("message/coach").has_value());
  CHECK(on.ui.probe().shows("Exam-like, view fixed"));
  CHECK(on.ui.probe().shows("07:57"));
  on.press(Key::f9);
  CHECK(on.room.mode() == Mode::exam_like);
  on.press(Key::z);
  CHECK(on.room.session().closeness() == screens::examine::Closeness::both);
  CHECK(on.ui.probe().shows("Fixed in an exam-like run."));
  CHECK_FALSE(on.outcome.finished);
  on.run_until(static_cast<double>(kExamLikeMs - kLastMinuteMs) + 2000);
  CHECK(on.ui.probe().shows("last minute"));
  CHECK_FALSE(on.outcome.finished);
  on.run_until(static_cast<double>(kExamLikeMs) + 1500);
  CHECK(on.outcome.finished);
  CHECK(on.outcome.time_was_up);
  CHECK(on.room.session().live().has_ended());
}

TEST_CASE("modes: an exam-like record is handed in once, after asking") {
  RoomOnScreen on(kUsual, 100, in_mode(Mode::exam_like));
  on.click("Impression and plan");
  on.click("Finish and see the debrief");
  CHECK_FALSE(on.outcome.finished);
  CHECK(on.ui.probe().shows("handed in once"));
  on.click("Go on");
  CHECK_FALSE(on.outcome.finished);
  on.click("Finish and see the debrief");
  on.click("Hand in");
  CHECK(on.outcome.finished);
  CHECK_FALSE(on.outcome.time_was_up);
}

TEST_CASE("modes: the choice is kept, and files of before it say the same") {
  Preferences p;
  p.mode = Mode::exam_like;
  CHECK(parse_preferences(format_preferences(p)).value().mode == Mode::exam_like);
  const std::string head = R"({"format": "redress-preferences", "version": 1)";
  CHECK(parse_preferences(head + "}").value().mode == Mode::guided);
  CHECK(parse_preferences(head + R"(, "coach": false})").value().mode == Mode::free);
  CHECK_FALSE(parse_preferences(head + R"(, "mode": "sealed"})").ok());
}

TEST_CASE("show me: the reference examiner's record can be marked, and is a good example") {
  const std::string record = make_example(RoomOnScreen::read_case());
  const auto model = screens::debrief::make_debrief(record);
  REQUIRE(model.ok());
  CHECK(model.value().total >= 98);
  // By the case's own chance: everybody is shown the same.
  CHECK(make_example(RoomOnScreen::read_case()) == record);
}
