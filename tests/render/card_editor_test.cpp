// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The record card: line and rows are two views of one entry, what settles becomes one note, nothing
// typed is lost, and the card knows only what was written and set up.
#include "render/screens/record/card_editor.hpp"

#include <catch2/catch.hpp>

#include "sim/record/act_json.hpp"

using namespace redress;
using namespace redress::screens::record;

namespace {

std::vector<Finding> write(CardEditor& editor, const std::string& line, Tick now = 1000) {
  editor.type(line);
  CHECK(editor.settle());
  return editor.take_settled(now);
}

}  // namespace

TEST_CASE("record: the same four conditions for everybody", "[screens][record]") {
  const CardEditor editor;
  REQUIRE(editor.conditions().size() == 4);
  CHECK(editor.conditions()[0] == Condition{6.0, true});
  CHECK(editor.conditions()[1] == Condition{0.33, true});
  CHECK(editor.conditions()[2] == Condition{6.0, false});
  CHECK(editor.conditions()[3] == Condition{0.33, false});
}

TEST_CASE("record: typing moves the rows, rows rewrite the line", "[screens][record]") {
  CardEditor editor;
  editor.type("33 cm cc 8Δ XOP′ slow rec");
  CHECK(editor.condition() == Condition{0.33, true});
  Finding f = editor.find(FindingTest::cover_test);
  CHECK(f.kind == FindingKind::phoria);
  CHECK(f.horizontal_pd == -8.0);
  CHECK(f.recovery == RecoveryGrade::slow);
  CHECK(editor.across() == -1);

  f.horizontal_pd = -10.0;
  f.recovery = RecoveryGrade::moderate;
  editor.edit(f);
  CHECK(editor.line() == "33 cm cc 10Δ XOP′ mod rec");
  editor.set_covers_seen(3);
  CHECK(editor.line() == "33 cm cc 10Δ XOP′ mod rec “3 covers”");
  CHECK(editor.covers_seen() == 3);
  editor.use(findings::Tradition::us);
  CHECK(editor.line() == "33 cm cc 10 X′ mod rec “3 covers”");

  REQUIRE(editor.settle());
  const std::vector<Finding> notes = editor.take_settled(5000);
  REQUIRE(notes.size() == 1);
  CHECK(notes[0].horizontal_pd == -10.0);
  CHECK(notes[0].method == SizeMethod::estimated);
  CHECK(editor.line().empty());
  CHECK(editor.take_settled(5001).empty());
  CHECK(record::check_act(Act{5000, act::Note{notes[0]}}).empty());
}

TEST_CASE("record: a direction chosen before its size waits for it", "[screens][record]") {
  CardEditor editor;
  Finding f = editor.find(FindingTest::cover_test);
  f.kind = FindingKind::phoria;
  editor.edit(f);
  editor.set_direction(1, 0);
  CHECK(editor.across() == 1);
  f = editor.find(FindingTest::cover_test);
  f.horizontal_pd = 4.0 * editor.across();
  editor.edit(f);
  CHECK(editor.find(FindingTest::cover_test).horizontal_pd == 4.0);
  editor.set_direction(-1, 0);
  CHECK(editor.find(FindingTest::cover_test).horizontal_pd == -4.0);
}

TEST_CASE("record: going to another condition settles the entry", "[screens][record]") {
  CardEditor editor;
  editor.type("2 XOP");
  editor.choose({0.33, true});
  const std::vector<Finding> notes = editor.take_settled(10);
  REQUIRE(notes.size() == 1);
  CHECK(notes[0].distance_m == 6.0);
  CHECK(editor.is_written({6.0, true}));
  CHECK_FALSE(editor.is_written({0.33, true}));
  CHECK_FALSE(editor.is_written({6.0, false}));
  // Back there the rows show what was written.
  editor.choose({6.0, true});
  CHECK(editor.find(FindingTest::cover_test).horizontal_pd == -2.0);
}

TEST_CASE("record: of several entries for one thing the last counts", "[screens][record]") {
  CardEditor editor;
  write(editor, "6 m cc 2 XOP", 10);
  write(editor, "6 m cc 4 XOP", 20);
  REQUIRE(editor.card().entries.size() == 1);
  CHECK(editor.card().entries[0].finding.horizontal_pd == -4.0);
  CHECK(editor.card().entries[0].at_ms == 20);
  write(editor, "6 m cc PCT 4Δ BI", 30);
  CHECK(editor.card().entries.size() == 2);
}

TEST_CASE("record: what is not read does not settle and is not lost", "[screens][record]") {
  CardEditor editor;
  editor.type("33 cm sc XOF′ 12Δ");
  CHECK_FALSE(editor.settle());
  CHECK(editor.take_settled(1).empty());
  CHECK(editor.line() == "33 cm sc XOF′ 12Δ");
  CHECK(editor.condition() == Condition{0.33, false});
  // A row does not write over it.
  Finding f = editor.find(FindingTest::cover_test);
  f.kind = FindingKind::none;
  editor.edit(f);
  CHECK(editor.line() == "33 cm sc XOF′ 12Δ");
  // Handed in, it is kept as a remark.
  editor.settle_all();
  const std::vector<Finding> notes = editor.take_settled(2);
  REQUIRE(notes.size() == 1);
  CHECK(notes[0].remark.find("XOF") != std::string::npos);
}

TEST_CASE("record: the card follows what is set up until a chip is chosen", "[screens][record]") {
  CardEditor editor;
  editor.follow_room(0.40, true);
  CHECK(editor.condition() == Condition{0.40, true});  // the near that is tested
  CHECK(write(editor, "6 XOP′").at(0).distance_m == 0.40);
  editor.follow_room(6.0, false);
  CHECK(editor.condition() == Condition{6.0, false});
  editor.choose({6.0, true});
  editor.follow_room(6.0, false);
  CHECK(editor.condition() == Condition{6.0, true});
  // Nothing moves under what is being written.
  editor.type("2 XOP");
  editor.follow_room(0.40, false);
  CHECK(editor.condition() == Condition{6.0, true});
}

TEST_CASE("record: a far distance gets its chip", "[screens][record]") {
  CardEditor editor;
  write(editor, "20 m cc RXO(T) 25");
  CHECK(editor.conditions().size() == 5);
  CHECK(editor.is_written({20.0, true}));
}

TEST_CASE("record: contradictions are pointed out, kept, and dismissed one by one",
          "[screens][record]") {
  CardEditor editor;
  write(editor, "6 m cc 6 XOP", 10);
  write(editor, "6 m cc PCT 6Δ BO", 20);
  REQUIRE_FALSE(editor.contradictions().empty());
  CHECK(editor.card().entries.size() == 2);
  editor.keep_both(editor.contradictions().front());
  CHECK(editor.contradictions().empty());
}

TEST_CASE("record: impression and plan are notes of their own", "[screens][record]") {
  CardEditor editor;
  Finding impression;
  impression.diagnosis = "exophoria";
  editor.set_impression(impression);
  Finding plan;
  plan.advice = "Exercises";
  plan.urgency = Urgency::routine;
  editor.set_plan(plan);
  editor.type("XOF");  // an unread line does not hold them back
  CHECK_FALSE(editor.settle());
  const std::vector<Finding> notes = editor.take_settled(1);
  REQUIRE(notes.size() == 2);
  CHECK(notes[0].test == FindingTest::impression);
  CHECK(notes[1].test == FindingTest::plan);
  CHECK(notes[1].urgency == Urgency::routine);
}

TEST_CASE("record: a card taken up again shows what was noted", "[screens][record]") {
  CardEditor before;
  std::vector<findings::WrittenFinding> notes;
  for (const Finding& f : write(before, "6 m cc 2 XOP, 33 cm cc 8 XOP slow rec")) {
    notes.push_back({1000, f});
  }
  const CardEditor after(notes);
  CHECK(after.read_back(findings::Tradition::uk) == before.read_back(findings::Tradition::uk));
  CHECK(after.find(FindingTest::cover_test).horizontal_pd == -2.0);
}

TEST_CASE("record: line and rows are one entry, gaze by gaze", "[screens][record]") {
  CardEditor editor;
  editor.type("R gaze 28Δ eso fix L");
  Finding key = editor.make_empty(FindingTest::gaze);
  key.gaze_horizontal_deg = 25;
  key.gaze_vertical_deg = 0;
  key.fixing = FindingEye::left;
  Finding f = editor.find(key);
  CHECK(f.horizontal_pd == 28.0);
  f.horizontal_pd = 30.0;
  editor.edit(f);
  CHECK(editor.line() == "6 m cc R gaze 30Δ eso fix L");
  // The same gaze with the other eye fixing is another entry.
  key.fixing = FindingEye::right;
  f = editor.find(key);
  CHECK_FALSE(f.horizontal_pd);
  f.horizontal_pd = 40.0;
  f.method = SizeMethod::estimated;
  editor.edit(f);
  REQUIRE(editor.settle());
  CHECK(editor.take_settled(2000).size() == 2);
  CHECK(editor.card().entries.size() == 2);
}

TEST_CASE("record: what is written as a row is read back in every tradition", "[screens][record]") {
  CardEditor editor;
  write(editor, "6 m cc 25Δ LXO(T) slow rec V pattern excyclo 5° face turn R");
  write(editor, "control 3/1");
  CHECK(editor.read_back(findings::Tradition::uk) ==
        "CT cc 25Δ LXO(T) slow rec V pattern excyclo 5° face turn R   control 3   control 1′");
  CHECK(editor.read_back(findings::Tradition::us) ==
        "CT cc 25 LX(T) slow rec V pattern excyclo 5° face turn R   control 3   control 1′");
  CHECK(editor.read_back(findings::Tradition::hospital) ==
        "CT cc 25Δ int LDS slow rec V pattern excyclo 5° face turn R   control 3   control 1′");
}

TEST_CASE("record: a control score of both distances stays at the place that was written",
          "[screens][record]") {
  CardEditor editor;
  write(editor, "control 3/1");
  CHECK(editor.condition() == Condition{6.0, true});
  const std::vector<Finding> next = write(editor, "PCT 25Δ BI");
  REQUIRE(next.size() == 1);
  CHECK(next[0].distance_m == 6.0);
}

TEST_CASE("record: an entry of nothing but its place is none", "[screens][record]") {
  CardEditor editor;
  Finding f = editor.make_empty(FindingTest::gaze);
  f.gaze_horizontal_deg = 25;
  f.fixing = FindingEye::left;
  CHECK(is_empty(f));
  f.kind = FindingKind::none;
  CHECK_FALSE(is_empty(f));
  Finding seen = editor.make_empty(FindingTest::cover_test);
  CHECK(is_empty(seen));
  seen.nystagmus = false;
  CHECK_FALSE(is_empty(seen));
  Finding control = editor.make_empty(FindingTest::control);
  control.control = 0;
  CHECK_FALSE(is_empty(control));
}

TEST_CASE("record: what is said by itself is added to what is written there", "[screens][record]") {
  CardEditor editor;
  write(editor, "6 m cc 20Δ RSOT mod rec");
  write(editor, "V pattern face turn R");
  write(editor, "incomitant");
  write(editor, "RLR -2");
  write(editor, "LE full");
  CHECK(editor.read_back(findings::Tradition::uk) ==
        "CT cc 20Δ RSOT mod rec incomitant V pattern face turn R   OM RE short of abduction LE "
        "full “RLR −2”");
  // A new class takes the place of the old one.
  write(editor, "6 m cc NMD");
  CHECK(editor.find(FindingTest::cover_test).kind == FindingKind::none);
  CHECK_FALSE(editor.find(FindingTest::cover_test).pattern);
}

TEST_CASE("record: four whole records by the line alone, without a contradiction",
          "[screens][record]") {
  struct Whole {
    const char* name;
    std::vector<std::string> lines;
    std::size_t entries;
    const char* read_back;  // a piece of it
  };
  const Whole wholes[] = {
      {"exophoria",
       {"6 m cc 2Δ XOP rapid rec", "33 cm cc 8Δ XOP′ slow rec", "33 cm cc PCT 10Δ BI",
        "NPC 9/13 L out", "PFR 33 cm BO 17/21/11 BI 13/21/13", "4Δ BO R normal, 4Δ BO L normal"},
       8,
       "CT cc 2Δ XOP rapid rec, 8Δ XOP′ slow rec   PCT 10Δ BI′   NPC 9/13 cm L out"},
      {"a sixth nerve palsy",
       {"6 m cc 20Δ RSOT RE out on cover LE still on cover diplopia face turn R incomitant",
        "PCT 20Δ BO fix L", "R gaze 28 eso L gaze 6 eso primary 18 eso up gaze 18 eso", "RLR -2",
        "LE full"},
       7,
       "R gaze 28Δ eso   L gaze 6Δ eso   primary 18Δ eso   up gaze 18Δ eso"},
      {"a fourth nerve palsy",
       {"6 m cc R/L 12 mod rec excyclo 4° head tilt L incomitant",
        "R gaze 4 R/L L gaze 18 R/L down-L gaze 22 R/L primary 12 R/L",
        "tilt R 20 R/L tilt L 4 R/L", "OM RE full LE full"},
       8,
       "tilt R 20Δ R/L   tilt L 4Δ R/L   OM full"},
      {"intermittent exotropia with control",
       {"control 3/1", "6 m cc 25Δ LXO(T) slow rec 3 covers to break comitant",
        "20 m cc 30Δ LXO(T) no rec", "33 cm cc 18Δ XOP′ mod rec", "6 m cc PCT 25Δ BI",
        "Hirschberg central"},
       7,
       "control 3   control 1′   CT 25Δ LXO(T) slow rec comitant 3 covers to break"}};
  for (const Whole& whole : wholes) {
    CardEditor editor;
    for (const std::string& line : whole.lines) {
      INFO(whole.name << ": " << line);
      for (const Finding& note : write(editor, line)) {
        CHECK(record::check_act(Act{1000, act::Note{note}}).empty());
      }
    }
    const std::string back = editor.read_back(findings::Tradition::uk);
    INFO(whole.name << ": " << back);
    CHECK(editor.card().entries.size() == whole.entries);
    CHECK(back.find(whole.read_back) != std::string::npos);
    for (const auto& c : editor.contradictions()) FAIL_CHECK(c.what);
  }
}
