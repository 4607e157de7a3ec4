// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The record on the screen: written by mouse and keys, the notes come out; all text fits at the
// four sizes, full and empty; nothing stands in the quiet zone.
#include "render/screens/record/record_card.hpp"

#include <catch2/catch.hpp>

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
        "NPC 9/13 cm, 4Δ BO R normal, 4Δ BO L no refixation"}) {
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
  PageOnScreen page{{1440, 900, 1}, CardEditor{}, {}, {}, false, false};
  test::HeadlessUi ui(page.size);
  const auto draw = [&](Ui& u) { page(u); };
  ui.click("Convergence insufficiency", draw);
  ui.click("Exercises", draw);
  ui.click("Review in weeks", draw);
  ui.click("Urgent", draw);
  ui.click("Finish and see the debrief", draw);
  CHECK(page.finish);
  CHECK(page.editor.impression().diagnosis == "convergence insufficiency");
  CHECK(page.editor.plan().advice == "Exercises; Review in weeks");
  CHECK(page.editor.plan().urgency == Urgency::urgent);
  REQUIRE_FALSE(page.notes.empty());
  CHECK(page.notes.back().urgency == Urgency::urgent);
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
        page.state.more_impressions = true;
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
