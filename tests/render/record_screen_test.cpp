// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The record on the screen: written by mouse and keys, the notes come out; all text fits at the
// four sizes, full and empty; nothing stands in the quiet zone.
#include "render/screens/record/record_card.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <optional>
#include <string>
#include <vector>

#include "sim/record/act_json.hpp"
#include "tests/render/headless_ui.hpp"

using namespace redress;
using namespace redress::screens;
using namespace redress::screens::record;

namespace {

const WindowSize kSizes[] = {{1920, 1080, 1}, {1440, 900, 1}, {1280, 720, 1}, {1280, 720, 2}};

struct CardOnScreen {
  WindowSize size;
  CardEditor editor;
  RecordState state;
  std::vector<Finding> notes;
  bool whole = false;

  void operator()(Ui& ui) {
    ui.go_to(Place::card);
    const RecordOutcome outcome =
        draw_record_card(ui, make_examine_layout(size, true).card, editor, state, 1000);
    notes.insert(notes.end(), outcome.notes.begin(), outcome.notes.end());
    whole = whole || outcome.whole;
  }
};

struct PageOnScreen {
  WindowSize size;
  CardEditor editor;
  RecordState state;
  std::vector<Finding> notes;
  bool back = false;
  bool finish = false;

  void operator()(Ui& ui) {
    const RecordOutcome outcome =
        draw_record_page(ui, make_study_layout(size), "Idris Penhale, 26", editor, state, 566000);
    notes.insert(notes.end(), outcome.notes.begin(), outcome.notes.end());
    back = back || outcome.back;
    finish = finish || outcome.finish;
  }
};

// The longest that the tables can hold.
void fill(CardEditor& editor) {
  for (const char* line :
       {"6 m cc ALT SOT 45Δ R/L 12 mod rec", "33 cm cc LXO(T) 25Δ 12Δ L/R mod rec incomitant",
        "6 m sc NMD rapid rec", "33 cm sc ALT XOT 45 no rec", "6 m cc PCT 45Δ BO 12Δ BD R",
        "6 m cc 4 XOP, 6 m sc 6Δ XOP, 6 m sc 6Δ BO", "PFR 33 cm BO 17/21/11 BI 13/21/13",
        "NPC 9/13 cm L out, 4Δ BO R normal, 4Δ BO L no refixation", "control 5/4",
        "6 m cc Hirschberg ALT SOT 45 R/L 12", "OM RE short of depression LE short of abduction",
        "up-R gaze 45 eso R/L 25, R gaze 45 eso R/L 25, down-L gaze 45.5 exo L/R 12.5",
        "tilt R 25.5 L/R, tilt L 45 eso R/L 25, PCT primary 45 eso R/L 25",
        "6 m cc ALT SOT 45 R/L 12 4 covers to break does not hold RE down on cover LE out on cover "
        "RE still on uncover LE down on uncover V pattern incyclo 14.5° no DVD no nystagmus "
        "no diplopia head tilt L face turn R chin down picture fairly sure incomitant"}) {
    editor.type(line);
    editor.settle();
    editor.take_settled(1000);
  }
}

}  // namespace

TEST_CASE("record card: written by mouse, one note comes out", "[screens][record]") {
  CardOnScreen card{{1440, 900, 1}, CardEditor{}, {}, {}, false};
  test::HeadlessUi ui(card.size, Theme::dim);
  const auto draw = [&](Ui& u) { card(u); };
  ui.click("Phoria", draw);
  ui.click("Exo", draw);
  for (int i = 0; i < 7; ++i) ui.click("record/size/more", draw);
  CHECK(card.editor.line().find("XOP") != std::string::npos);
  ui.click("Slow", draw);
  CHECK(card.notes.empty());
  ui.click("33 cm cc", draw);
  REQUIRE(card.notes.size() == 1);
  CHECK(card.notes[0].kind == FindingKind::phoria);
  CHECK(card.notes[0].horizontal_pd < -4.0);
  CHECK(card.notes[0].recovery == RecoveryGrade::slow);
  CHECK(card.notes[0].distance_m == 6.0);
}

TEST_CASE("record card: written by keys, Enter settles", "[screens][record]") {
  CardOnScreen card{{1440, 900, 1}, CardEditor{}, {}, {}, false};
  test::HeadlessUi ui(card.size, Theme::dim);
  const auto draw = [&](Ui& u) { card(u); };
  ui.frame(draw);
  write_finding(card.state);
  ui.settle(draw);
  ui.type("33 cm cc 8Δ XOP′ slow rec", draw);
  CHECK(ui.probe().shows("Read as: 33 cm, with correction, exophoria 8Δ, recovery slow."));
  CHECK(card.editor.line() == "33 cm cc 8Δ XOP′ slow rec");
  ui.press(window::Key::enter, draw);
  REQUIRE(card.notes.size() == 1);
  CHECK(card.notes[0].horizontal_pd == -8.0);
  CHECK(card.editor.line().empty());
}

TEST_CASE("record card: after Enter the next finding is written at once", "[screens][record]") {
  CardOnScreen card{{1440, 900, 1}, CardEditor{}, {}, {}, false};
  test::HeadlessUi ui(card.size, Theme::dim);
  const auto draw = [&](Ui& u) { card(u); };
  ui.frame(draw);
  write_finding(card.state);
  ui.settle(draw);
  ui.type("6 m sc 6 XOP", draw);
  ui.press(window::Key::enter, draw);
  ui.settle(draw);
  ui.type("33 cm sc 8 XOP'", draw);
  ui.press(window::Key::enter, draw);
  REQUIRE(card.notes.size() == 2);
  CHECK(card.notes[0].horizontal_pd == -6.0);
  CHECK(card.notes[1].horizontal_pd == -8.0);
}

TEST_CASE("record card: an unread line says so and is not noted", "[screens][record]") {
  CardOnScreen card{{1440, 900, 1}, CardEditor{}, {}, {}, false};
  test::HeadlessUi ui(card.size, Theme::dim);
  const auto draw = [&](Ui& u) { card(u); };
  ui.frame(draw);
  write_finding(card.state);
  ui.settle(draw);
  ui.type("33 cm sc XOF′ 12Δ", draw);
  ui.press(window::Key::enter, draw);
  CHECK(card.notes.empty());
  CHECK(ui.probe().shows("Did you mean XOP (exophoria) or XOT (exotropia)?"));
}

TEST_CASE("record page: impression, plan, how soon and finish", "[screens][record]") {
  // Tall, so that nothing has to be scrolled to.
  PageOnScreen page{{1440, 2400, 1}, CardEditor{}, {}, {}, false, false};
  test::HeadlessUi ui(page.size);
  const auto draw = [&](Ui& u) { page(u); };
  for (int i = 0; i < 3; ++i) ui.frame(draw);
  ui.click("Convergence insufficiency", draw);
  ui.click("Exercises", draw);
  ui.click("When to come back at once", draw);
  ui.click("Orthoptist", draw);
  ui.click("Prism", draw);
  ui.click("Prism", draw);  // and off again
  ui.click("record/weeks/more", draw);
  ui.click("Not until controlled", draw);
  ui.click("Urgent", draw);
  ui.click("Finish and see the debrief", draw);
  CHECK(page.finish);
  CHECK(page.editor.impression().diagnosis == "convergence insufficiency");
  const Finding& plan = page.editor.plan();
  CHECK(plan.parts == std::vector<PlanPart>{PlanPart::exercises, PlanPart::refer_orthoptist,
                                            PlanPart::safety_net});
  CHECK(plan.next_weeks == 1.0);
  CHECK(plan.driving == Driving::not_until_controlled);
  CHECK(plan.urgency == Urgency::urgent);
  REQUIRE_FALSE(page.notes.empty());
  CHECK(page.notes.back().urgency == Urgency::urgent);
}

TEST_CASE("record page: opened for the impression, its field and what it finds are in sight",
          "[screens][record]") {
  // The smallest room there is: 1280 x 720 at scale 2. Heights above are known a frame later.
  PageOnScreen page{{1280, 720, 2}, CardEditor{}, {}, {}, false, false};
  page.state.focus_impression = true;
  test::HeadlessUi ui(page.size);
  const auto draw = [&](Ui& u) { page(u); };
  ui.settle(draw);
  ui.type("exoph", draw);
  const auto in_sight = [&](const char* what) {
    const ProbedPart* part = ui.probe().find(what);
    REQUIRE(part != nullptr);
    INFO(what << " at " << part->rect.y << " to " << part->rect.bottom());
    CHECK(part->rect.y >= 52);
    CHECK(part->rect.bottom() <= 304);
  };
  in_sight("record/impression");
  in_sight("Exophoria");
}

TEST_CASE("record page: an impression is found by typing, its side chosen", "[screens][record]") {
  PageOnScreen page{{1440, 2400, 1}, CardEditor{}, {}, {}, false, false};
  test::HeadlessUi ui(page.size);
  const auto draw = [&](Ui& u) { page(u); };
  for (int i = 0; i < 3; ++i) ui.frame(draw);
  ui.click("impression", draw);
  ui.type("abduc", draw);
  CHECK(ui.probe().find("Sixth nerve palsy") != nullptr);
  CHECK(ui.probe().find("Fourth nerve palsy") == nullptr);
  ui.click("Sixth nerve palsy", draw);
  CHECK(page.editor.impression().diagnosis == "sixth nerve palsy");
  ui.click("record/side/Left", draw);
  CHECK(page.editor.impression().diagnosis == "left sixth nerve palsy");
  // What was typed on the way is no note.
  CHECK(std::none_of(page.notes.begin(), page.notes.end(),
                     [](const Finding& f) { return f.diagnosis == "abduc"; }));
}

TEST_CASE("record page: an impression that is typed and left is handed in", "[screens][record]") {
  PageOnScreen page{{1440, 2400, 1}, CardEditor{}, {}, {}, false, false};
  test::HeadlessUi ui(page.size);
  const auto draw = [&](Ui& u) { page(u); };
  for (int i = 0; i < 3; ++i) ui.frame(draw);
  ui.click("impression", draw);
  ui.type("sixth nerve weakness, left", draw);
  ui.click("Urgent", draw);
  ui.click("Finish and see the debrief", draw);
  CHECK(page.editor.impression().diagnosis == "sixth nerve weakness, left");
}

TEST_CASE("record page: by keys, one of the list that alone begins so is meant",
          "[screens][record]") {
  PageOnScreen page{{1440, 2400, 1}, CardEditor{}, {}, {}, false, false};
  test::HeadlessUi ui(page.size);
  const auto draw = [&](Ui& u) { page(u); };
  for (int i = 0; i < 3; ++i) ui.frame(draw);
  ui.click("impression", draw);
  ui.type("giant", draw);
  ui.press(window::Key::enter, draw);
  CHECK(page.editor.impression().diagnosis == "giant cell arteritis");
}

TEST_CASE("record page: the department's code stands below the step", "[screens][record]") {
  PageOnScreen page{{1440, 2400, 1}, CardEditor{}, {}, {}, false, false};
  findings::Department colours;
  colours.title = "Example: colours";
  colours.urgency = {"Red: today", "Orange: within a week", "Yellow", "Green"};
  colours.driving = {"None.", "Not while double.", "Tell the authority."};
  page.state.departments = {colours};
  test::HeadlessUi ui(page.size);
  const auto draw = [&](Ui& u) { page(u); };
  for (int i = 0; i < 3; ++i) ui.frame(draw);
  ui.click("Urgent", draw);
  CHECK_FALSE(ui.probe().shows("Orange"));
  ui.click("Example: colours", draw);
  CHECK(ui.probe().shows("Orange: within a week"));
  CHECK(ui.probe().shows("an example, not your code"));
  ui.click("Not until controlled", draw);
  CHECK(ui.probe().shows("Not while double."));
}

TEST_CASE("record card: a fourth nerve palsy by mouse, gaze by gaze", "[screens][record]") {
  CardOnScreen card{{1440, 2400, 1}, CardEditor{}, {}, {}, false};
  card.state.open.fill(false);
  card.state.open[static_cast<std::size_t>(Section::gazes)] = true;
  test::HeadlessUi ui(card.size, Theme::dim);
  const auto draw = [&](Ui& u) { card(u); };
  for (int i = 0; i < 3; ++i) ui.frame(draw);
  const auto write = [&](const char* place, const char* way, int clicks) {
    ui.click(std::string("record/gaze ") + place, draw);
    ui.click(std::string("record/gaze height way/") + way, draw);
    for (int i = 0; i < clicks; ++i) ui.click("record/gaze height/more", draw);
  };
  write("Primary", "R/L", 5);     // along the bar: 1 2 4 6 8
  write("Left", "R/L", 7);        // 12
  write("Tilt right", "R/L", 8);  // 14
  write("Tilt left", "R/L", 2);
  ui.click("Incomitant", draw);
  ui.click("33 cm cc", draw);  // leaves the last entry
  const auto size_at = [&](double across, double roll) -> std::optional<double> {
    for (const auto& entry : card.editor.card().entries) {
      const Finding& f = entry.finding;
      if (f.test == FindingTest::gaze && f.gaze_horizontal_deg.value_or(0) == across &&
          f.head_roll_deg.value_or(0) == roll) {
        return f.vertical_pd;
      }
    }
    return std::nullopt;
  };
  CHECK(size_at(0, 0) == 8.0);
  CHECK(size_at(-25, 0) == 12.0);
  CHECK(size_at(0, 30) == 14.0);
  CHECK(size_at(0, -30) == 2.0);
  CHECK(ui.probe().find("record/gaze Left") != nullptr);
  for (const Finding& note : card.notes) {
    CHECK(redress::record::check_act(Act{5000, act::Note{note}}).empty());
  }
}

TEST_CASE("record card: the grid of gazes by arrows", "[screens][record]") {
  CardOnScreen card{{1440, 2400, 1}, CardEditor{}, {}, {}, false};
  card.state.open[static_cast<std::size_t>(Section::gazes)] = true;
  test::HeadlessUi ui(card.size, Theme::dim);
  const auto draw = [&](Ui& u) { card(u); };
  for (int i = 0; i < 3; ++i) ui.frame(draw);
  ui.click("Primary", draw);
  ui.press(window::Key::left, draw);
  CHECK(card.state.gaze == GazePlace{1, 0, 0, {}});  // the patient's right is at the left
  ui.press(window::Key::down, draw);
  CHECK(card.state.gaze == GazePlace{1, -1, 0, {}});
}

TEST_CASE("record card: control, reflexes and what was seen are notes of their own",
          "[screens][record]") {
  CardOnScreen card{{1440, 3200, 1}, CardEditor{}, {}, {}, false};
  card.state.open.fill(true);
  test::HeadlessUi ui(card.size, Theme::dim);
  const auto draw = [&](Ui& u) { card(u); };
  for (int i = 0; i < 3; ++i) ui.frame(draw);
  for (int i = 0; i < 4; ++i) ui.click("record/control distance/more", draw);  // from 0
  CHECK(card.editor.line() == "6 m cc control 3");
  for (int i = 0; i < 2; ++i) ui.click("record/control near/more", draw);
  ui.click("Hirschberg", draw);
  ui.click("record/reflex size way/Exo", draw);
  ui.click("record/reflex size/more", draw);
  ui.click("record/pattern/V", draw);
  ui.click("Excyclo", draw);
  ui.click("record/right on cover/Out", draw);
  ui.click("33 cm cc", draw);
  const auto has = [&](auto is_it) {
    return std::any_of(card.editor.card().entries.begin(), card.editor.card().entries.end(),
                       [&](const auto& entry) { return is_it(entry.finding); });
  };
  CHECK(has([](const Finding& f) { return f.control == 3 && f.distance_m == 6.0; }));
  CHECK(has([](const Finding& f) { return f.control == 1 && f.distance_m == 0.33; }));
  CHECK(has([](const Finding& f) {
    return f.test == FindingTest::reflexes && f.horizontal_pd == -1.0 &&
           f.method == SizeMethod::hirschberg;
  }));
  CHECK(has([](const Finding& f) {
    return f.pattern == SeenPattern::v && f.torsion_deg == 1.0 && f.on_cover.right == SeenWay::out;
  }));
}

TEST_CASE("record: every group of impressions fits", "[screens][record][layout]") {
  for (const WindowSize& size : kSizes) {
    for (std::size_t group = 0; group < 6; ++group) {
      PageOnScreen page{size, CardEditor{}, {}, {}, false, false};
      page.state.impressions_open = group;
      test::HeadlessUi ui(size);
      for (int i = 0; i < 3; ++i) ui.frame([&](Ui& u) { page(u); });
      INFO(size.width_px << " at " << size.scale << ", group " << group);
      CHECK(ui.misfits() == "");
    }
  }
}

TEST_CASE("record: all text fits, full and empty", "[screens][record][layout]") {
  for (const WindowSize& size : kSizes) {
    for (const bool full : {false, true}) {
      CardOnScreen card{size, CardEditor{}, {}, {}, false};
      PageOnScreen page{size, CardEditor{}, {}, {}, false, false};
      if (full) {
        fill(card.editor);
        fill(page.editor);
        card.state.open.fill(true);
        findings::Department colours;
        colours.title = "The eye department of a general hospital";
        colours.urgency.fill(
            "Orange: to be seen by somebody within a week from today at the latest");
        colours.driving.fill(
            "Not to drive while there is double vision; see your country's rules.");
        page.state.departments = {colours};
        page.state.department = 0;
        Finding plan = page.editor.plan();
        plan.driving = Driving::notify_authority;
        plan.urgency = Urgency::same_day;
        plan.next_weeks = 52;
        page.editor.set_plan(plan);
        card.editor.type("6 m cc XOF 12Δ");
        page.editor.type("6 m cc XOF 12Δ");
      }
      INFO(size.width_px << " x " << size.height_px << " at " << size.scale << ", full " << full);
      test::HeadlessUi on_card(size, Theme::dim);
      for (int i = 0; i < 3; ++i) on_card.frame([&](Ui& u) { card(u); });
      CHECK(on_card.misfits() == "");
      test::HeadlessUi on_page(size);
      for (int i = 0; i < 3; ++i) on_page.frame([&](Ui& u) { page(u); });
      CHECK(on_page.misfits() == "");
      // The card beside the patient stays out of the quiet zone.
      const ExamineLayout layout = make_examine_layout(size, true);
      if (!layout.compact) CHECK_FALSE(layout.card.overlaps(layout.quiet));
    }
  }
}
