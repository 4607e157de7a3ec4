// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// A candidate sits a sealed circuit on the screen: what is kept is intact and scores, an
// interruption costs nothing, the invigilator's acts stand in the record, and nothing of truth,
// score or sealed case is ever shown.
#include <catch2/catch.hpp>

#include <string>
#include <vector>

#include "sim/assessment/station_score.hpp"
#include "sim/cases/setup.hpp"
#include "sim/record/record_file.hpp"
#include "sim/record/replay.hpp"
#include "tests/render/sitting_on_screen.hpp"

using namespace redress;
using namespace redress::assessment;
using redress::screens::WindowSize;
using redress::test::SittingOnScreen;
using redress::window::Key;

namespace {

OpenedCircuit open_small(const std::string& folder) {
  return open_circuit(read_file(folder + "/day.sealed").value(), test::kSittingPassphrase).value();
}

std::string read_kept(const std::string& folder, const std::string& name) {
  return read_file(folder + "/kept/" + name).value();
}

std::vector<std::string> event_words(const StationVerdict& verdict) {
  std::vector<std::string> words;
  for (const DeskEvent& event : verdict.events) words.push_back(event.what);
  return words;
}

bool has(const std::vector<std::string>& words, const std::string& word) {
  return std::find(words.begin(), words.end(), word) != words.end();
}

}  // namespace

TEST_CASE("sitting: two stations and a rest, kept intact, and they score") {
  tests::TemporaryFolder folder;
  test::seal_small_circuit(folder.path(), {});
  SittingOnScreen on(folder.path());
  CHECK(on.shows("Open a sealed circuit"));
  on.begin();
  CHECK(on.shows("Station 1 of 3"));
  CHECK(on.shows("2:00"));
  on.click("Begin reading");
  CHECK(on.shows("Tasks at this station"));
  CHECK(on.shows("Measure it with prism."));
  CHECK_FALSE(on.sitting->shows_patient());
  on.run_for(11'000);
  REQUIRE(on.sitting->shows_patient());
  CHECK(on.shows("Every act kept"));
  CHECK(on.shows("Candidate 0417"));
  CHECK(on.shows("Fixed for this circuit: 2.0× life size"));
  on.key(Key::a, "a");
  on.run_for(2000);
  on.key(Key::a, "a");
  on.key(Key::z, "z");
  on.run_for(1500);
  CHECK(on.shows("Fixed for this circuit."));
  on.key(Key::j, "j");
  CHECK(on.shows("Nothing ticks") == false);
  CHECK(on.shows("Find and record any deviation at 6 m."));
  on.key(Key::j, "j");
  on.run_for(125'000);
  CHECK(on.shows("Time is up. Your card was handed in as it stands."));
  on.fill("comment", "The mouse stuck once");
  on.click("Go on");
  CHECK(on.shows("Rest"));
  on.run_for(31'000);
  CHECK(on.shows("Station 3 of 3"));
  on.click("Begin reading");
  on.run_for(1000);
  REQUIRE(on.sitting->shows_patient());
  on.click("Impression and plan");
  CHECK(on.shows("last minute 0:5"));
  on.click("Finish and hand in");
  on.click("Hand in");
  CHECK(on.shows("Station 3 of 3 was handed in."));
  on.click("Go on");
  CHECK(on.shows("All stations are done"));
  on.sitting.reset();

  const OpenedCircuit circuit = open_small(folder.path());
  const std::string first = read_kept(folder.path(), "0417-1.station");
  const StationVerdict verdict = verify_station(first, circuit.keys.id());
  INFO(verdict.message);
  CHECK(verdict.intact());
  CHECK(verdict.used_ms == 120'000);
  CHECK(verdict.identity.candidate == "0417");
  CHECK(verdict.identity.workstation == "desk 3");
  CHECK(event_words(verdict) ==
        std::vector<std::string>{"began", "reading", "reading_over", "handed_in", "comment"});
  const auto opened = open_station(first, circuit.keys);
  REQUIRE(opened.ok());
  const auto record = record::read_record(opened.value().record);
  REQUIRE(record.ok());
  CHECK(record.value().acts.size() >= 2);
  CHECK(record::replay(record.value(), setup_of(circuit.forms[0][0].content)).agrees);
  const auto score = score_station(first, circuit);
  REQUIRE(score.ok());
  CHECK_FALSE(score.value().finished);
  const auto third = score_station(read_kept(folder.path(), "0417-3.station"), circuit);
  REQUIRE(third.ok());
  CHECK(third.value().finished);
}

TEST_CASE("sitting: after a kill the station goes on with the time used") {
  tests::TemporaryFolder folder;
  test::seal_small_circuit(folder.path(), {});
  {
    SittingOnScreen on(folder.path());
    on.begin();
    on.click("Begin reading");
    on.run_for(11'000);
    on.key(Key::t, "t");
    on.key(Key::t, "t");
    on.key(Key::f5, "");
    on.key(Key::f, "f");
    on.key(Key::a, "a");
    on.run_for(30'000);
    // Nobody says goodbye: the file has no last line.
  }
  const OpenedCircuit circuit = open_small(folder.path());
  const StationVerdict cut =
      verify_station(read_kept(folder.path(), "0417-1.station"), circuit.keys.id());
  CHECK(cut.standing == Standing::cut_short);
  CHECK(cut.used_ms > 29'000);

  SittingOnScreen on(folder.path(), true);
  on.open();
  CHECK(on.shows("This desk resumes station 1 at 0:3"));
  CHECK(on.shows("by the assessor’s word"));
  on.click("Go on");
  on.run_for(500);
  REQUIRE(on.sitting->shows_patient());
  CHECK(on.shows("1:2"));
  CHECK(on.shows("40 cm"));  // the target is where it was
  on.run_for(95'000);
  CHECK(on.shows("Time is up."));
  on.click("Go on");
  on.sitting.reset();

  const std::string kept = read_kept(folder.path(), "0417-1.station");
  const StationVerdict verdict = verify_station(kept, circuit.keys.id());
  INFO(verdict.message);
  CHECK(verdict.intact());
  CHECK(verdict.used_ms == 120'000);
  CHECK(verdict.resumptions == 1);
  const auto record = record::read_record(open_station(kept, circuit.keys).value().record);
  REQUIRE(record.ok());
  const record::ReplayVerdict replayed =
      record::replay(record.value(), setup_of(circuit.forms[0][0].content));
  INFO(replayed.message);
  CHECK(replayed.agrees);
}

TEST_CASE("sitting: a wrong passphrase opens nothing, waits, and says nothing more") {
  tests::TemporaryFolder folder;
  test::seal_small_circuit(folder.path(), {});
  SittingOnScreen on(folder.path());
  on.open("not this one at all");
  CHECK(on.shows("That does not open it. Next try in 1 s."));
  on.fill("passphrase", test::kSittingPassphrase);
  CHECK(on.shows("Open a sealed circuit"));
  on.run_for(1500);
  on.click("Open");
  CHECK(on.shows("This workstation, for the assessor"));
  // A passphrase is never among what is shown.
  CHECK_FALSE(on.shows(test::kSittingPassphrase));
}

TEST_CASE("sitting: to close the window and open it again is no way round the wait") {
  tests::TemporaryFolder folder;
  test::seal_small_circuit(folder.path(), {});
  {
    SittingOnScreen on(folder.path());
    for (int i = 0; i < 3; ++i) {
      on.open("a guess of a candidate");
      on.run_for(10'000);
    }
  }
  SittingOnScreen on(folder.path());
  on.open();
  CHECK(on.shows("Open a sealed circuit"));
  CHECK(on.shows("Next try in"));
  on.run_for(1000.0 * static_cast<double>(calc_wait_s(3)) + 500);
  on.click("Open");  // what was typed is still there
  CHECK(on.shows("This workstation, for the assessor"));
  on.sitting.reset();
  SittingOnScreen after(folder.path());
  after.open();
  CHECK(after.shows("This workstation, for the assessor"));
}

TEST_CASE("sitting: extra time is for reading and station, and larger text makes no larger eyes") {
  tests::TemporaryFolder folder;
  test::seal_small_circuit(folder.path(), {});
  SittingOnScreen on(folder.path());
  on.open();
  on.click("50 %");
  on.click("Double");
  REQUIRE(on.outcome.text_scale);
  CHECK(*on.outcome.text_scale == 2.0F);
  on.click("Ready for the candidate");
  on.fill("candidate", "0417");
  on.click("Begin the practice minute");
  on.run_for(91'500);  // the practice minute is longer as well
  CHECK(on.shows("for 0:15. Then the patient is there for 3:00."));  // of 10 s and 2 minutes
  on.click("Begin reading");
  on.run_for(14'000);
  CHECK_FALSE(on.sitting->shows_patient());
  on.run_for(2000);
  REQUIRE(on.sitting->shows_patient());
  CHECK(on.shows("Fixed for this circuit: 2.0× life size"));
  on.run_for(178'000);
  CHECK(on.sitting->shows_patient());
  on.run_for(4000);
  CHECK(on.shows("Time is up."));
  on.click("Go on");
  on.sitting.reset();
  const std::string kept = read_kept(folder.path(), "0417-1.station");
  const StationVerdict verdict = verify_station(kept, open_small(folder.path()).keys.id());
  CHECK(verdict.intact());
  CHECK(verdict.used_ms == 180'000);
  REQUIRE_FALSE(verdict.events.empty());
  CHECK(verdict.events.front().detail.at("extra_percent") == 50);
}

TEST_CASE("sitting: the invigilator pauses, gives time and ends a station, with reasons") {
  tests::TemporaryFolder folder;
  test::seal_small_circuit(folder.path(), {});
  SittingOnScreen on(folder.path());
  on.begin();
  on.click("Begin reading");
  on.run_for(11'000);
  on.run_for(10'000);
  on.key(Key::f11);
  CHECK_FALSE(on.sitting->shows_patient());
  on.open();
  CHECK(on.shows("The clock runs on until you pause."));
  on.click("Pause");
  on.run_for(60'000);
  on.fill("reason", "fire bell");
  on.click("Give it");
  CHECK(on.shows("60 s given."));
  on.fill("incident", "Bell rang for a minute");
  on.click("Note it");
  on.click("Back to the candidate");
  CHECK(on.shows("The invigilator has paused this station."));
  on.key(Key::f11);
  on.open();
  on.click("Go on");
  on.click("Back to the candidate");
  REQUIRE(on.sitting->shows_patient());
  on.run_for(90'000);
  REQUIRE(on.sitting->shows_patient());  // 120 s and a minute more, of which a pause is no part
  on.key(Key::f11);
  on.open();
  on.fill("reason", "candidate unwell");
  on.click("Abort ...");
  on.click("Abort the station");
  CHECK(on.shows("The invigilator ended this station."));
  on.click("Go on");
  on.sitting.reset();

  const OpenedCircuit circuit = open_small(folder.path());
  const std::string kept = read_kept(folder.path(), "0417-1.station");
  const StationVerdict verdict = verify_station(kept, circuit.keys.id());
  CHECK(verdict.intact());
  const auto words = event_words(verdict);
  for (const char* word : {"paused", "time_credit", "incident", "went_on", "aborted"}) {
    INFO(word);
    CHECK(has(words, word));
  }
  CHECK(read_terms(verdict.events).credit_ms == 60'000);
  CHECK(verdict.used_ms > 100'000);
  CHECK(verdict.used_ms < 130'000);
  CHECK(score_station(kept, circuit).value().finished);
}

TEST_CASE("sitting: leaving the window is written down and told") {
  tests::TemporaryFolder folder;
  test::seal_small_circuit(folder.path(), {});
  SittingOnScreen on(folder.path());
  on.begin();
  on.click("Begin reading");
  on.run_for(11'500);
  on.at(on.now_ms(), window::input::WindowFocus{false});
  on.run_for(9000);
  on.at(on.now_ms(), window::input::WindowFocus{true});
  on.run_for(1500);
  CHECK(on.shows("You left the window for 9 s; this is recorded."));
  on.sitting.reset();
  const auto words = event_words(verify_station(read_kept(folder.path(), "0417-1.station")));
  CHECK(has(words, "left_window"));
  CHECK(has(words, "came_back"));
}

TEST_CASE("sitting: what the circuit leaves out is not there, whatever the patient has") {
  tests::TemporaryFolder folder;
  test::seal_small_circuit(folder.path(), {"opaque_occluder", "vertical_bar"});
  SittingOnScreen on(folder.path());
  on.begin();
  on.click("Begin reading");
  on.run_for(140'000);
  on.click("Go on");
  on.click("Go on now");
  on.click("Begin reading");
  on.run_for(1000);
  REQUIRE(on.sitting->shows_patient());
  const auto refused = [&](Key key, const char* letter, const char* words) {
    on.key(key, letter);
    on.run_for(900);
    INFO(words);
    CHECK(on.shows(words));
  };
  refused(Key::b, "b", "No penlight at this station.");
  refused(Key::v, "v", "No translucent occluder at this station.");
  refused(Key::f, "f", "No horizontal prism bar at this station.");
  refused(Key::m, "m", "No near-point rule at this station.");
  on.key(Key::digit3, "3");
  on.key(Key::f, "f");
  on.run_for(900);
  CHECK(on.shows("base up"));
}

TEST_CASE("sitting: nothing of truth, score or the sealed case is shown at any step") {
  tests::TemporaryFolder folder;
  test::seal_small_circuit(folder.path(), {});
  SittingOnScreen on(folder.path(), false, WindowSize{1280, 720, 1}, 500);
  // Titles, files, diagnoses, names of stations (they say what is there), and words of marking.
  const std::vector<std::string> never{
      "exophoria.json", "right_esotropia", "Held straight", "Turned in", "expected",
      "debrief",        "Debrief",         "of 100",        "mark",      "seed",
      "See the",        "Chosen:",         "Next:",         "Why?"};
  std::string leaked;
  const auto look = [&] {
    for (const std::string& word : never) {
      for (const auto& text : on.ui.probe().texts()) {
        if (text.text.find(word) != std::string::npos) leaked += word + " in " + text.text + "\n";
      }
    }
  };
  on.open();
  look();
  on.click("Ready for the candidate");
  on.fill("candidate", "0417");
  look();
  on.click("Begin the practice minute");
  look();
  on.run_for(61'500);
  on.click("Begin reading");
  look();
  on.run_for(12'000);
  for (const Key key : {Key::h, Key::j, Key::t, Key::x, Key::c, Key::f9, Key::z, Key::f12}) {
    on.key(key);
    on.run_for(1000);
    look();
    on.key(Key::escape);
  }
  on.click("Impression and plan");
  look();
  on.run_for(125'000);
  look();
  on.click("Go on");
  look();
  on.click("Go on now");
  look();
  CHECK(leaked == "");
  CHECK(on.sitting->title() == "Station 3 of 3 – Redress");
}
