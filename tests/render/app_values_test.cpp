// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// What the application keeps and reads: preferences, results, scripts, the shelf of cases.
#include <catch2/catch.hpp>

#include <filesystem>
#include <fstream>
#include <string>

#include "render/app/case_shelf.hpp"
#include "render/app/preferences.hpp"
#include "render/app/results.hpp"
#include "render/app/script.hpp"
#include "sim/basics/file.hpp"
#include "tests/support/places.hpp"
#include "tests/support/temporary_folder.hpp"

using namespace redress;
using namespace redress::app;
using redress::tests::TemporaryFolder;

namespace {

void write_text(const std::string& path, const std::string& text) {
  std::ofstream(path, std::ios::binary) << text;
}

}  // namespace

TEST_CASE("preferences come back as they were kept") {
  Preferences p;
  p.first_run_done = true;
  p.role = Role::examining;
  p.name = "Wanda Ilves, “W”";
  p.mouse_hand = MouseHand::left;
  p.shorthand = Tradition::us;
  p.room_is_dim = false;
  p.text_scale = 1.25;
  p.eye_distance_cm = 72;
  p.motion_ms = 400;
  p.one_key_at_a_time = true;
  p.keys = {{"story", {28, {}}}, {"tasks", {28, {.shift = true, .control = true}}}};
  p.set_calibration({"eDP-1", 1920, 1080, 5.123, "2026-11-24"});
  p.set_calibration({"HDMI-2", 2560, 1440, 4.3, "2026-11-25"});
  p.set_calibration({"eDP-1", 1920, 1080, 5.5, "2026-11-26"});
  TemporaryFolder folder;
  REQUIRE(save_preferences(folder.path() + "/new", p).empty());
  const LoadedPreferences loaded = load_preferences(folder.path() + "/new");
  CHECK(loaded.trouble.empty());
  CHECK(loaded.preferences == p);
  REQUIRE(loaded.preferences.calibrations.size() == 2);
  CHECK(loaded.preferences.find_calibration("eDP-1", 1920, 1080)->pixels_per_mm == 5.5);
  CHECK(loaded.preferences.find_calibration("eDP-1", 1280, 720) == nullptr);
}

TEST_CASE("no preferences are the usual ones, unreadable ones are told and left alone") {
  TemporaryFolder folder;
  CHECK(load_preferences(folder.path()).preferences == Preferences{});
  CHECK(load_preferences(folder.path()).trouble.empty());
  const std::string file = folder.path() + "/preferences.json";
  for (const std::string text :
       {"", "{", "[]", R"({"format":"redress-preferences","version":2})",
        R"({"format":"redress-preferences","version":1,"text_scale":7})",
        R"({"format":"redress-preferences","version":1,"mouse_hand":"both"})",
        R"({"format":"redress-preferences","version":1,"keys":[{"does":"fly","usage":28}]})",
        R"({"format":"redress-preferences","version":1,"keys":[{"does":"story","usage":27}]})",
        R"({"format":"redress-preferences","version":1,"keys":[{"does":"story","usage":9000}]})"}) {
    write_text(file, text);
    const LoadedPreferences loaded = load_preferences(folder.path());
    INFO(text);
    CHECK_FALSE(loaded.trouble.empty());
    CHECK_FALSE(loaded.writable);
    CHECK(loaded.preferences == Preferences{});
    CHECK(read_file(file).value() == text);
  }
}

TEST_CASE("what was done: kept line by line, unreadable lines passed over") {
  TemporaryFolder folder;
  CHECK(load_results(folder.path()).empty());
  const DoneExamination one{"exophoria", "2026-11-24", 74, "a.redress"};
  const DoneExamination two{"microtropia", "2026-11-25", 88.5, "b.redress"};
  REQUIRE(add_result(folder.path(), one).empty());
  std::ofstream(folder.path() + "/done.jsonl", std::ios::app) << "half a li\n\n[1]\n";
  REQUIRE(add_result(folder.path(), two).empty());
  const std::vector<DoneExamination> loaded = load_results(folder.path());
  REQUIRE(loaded.size() == 2);
  CHECK(loaded[0] == one);
  CHECK(loaded[1] == two);
}

TEST_CASE("dates as a person says them") {
  CHECK(describe_date("2026-11-24", "2026-11-24") == "today");
  CHECK(describe_date("2026-02-28", "2026-03-01") == "yesterday");
  CHECK(describe_date("2026-11-12", "2026-11-24") == "12 Nov");
  CHECK(describe_date("2025-12-31", "2026-11-24") == "31 Dec 2025");
  CHECK(describe_date("2025-13-31", "2026-11-24").empty());
  CHECK(describe_date("soon", "2026-11-24").empty());
  CHECK(write_day("2026-11-04") == "4 November");
}

TEST_CASE("a script: pointer, keys, words, what is not understood is named by its line") {
  const Result<std::vector<ScriptStep>> read = parse_script(
      "# by hand\n0 click Begin\n\n400 move 520 310.5\n420 press\n900 release left\n"
      "1000 key Shift A F12 Space\n1200 type 33 cm XOP\n1300 wheel -2\n1500 shot end.png\n");
  REQUIRE(read.ok());
  const std::vector<ScriptStep>& steps = read.value();
  REQUIRE(steps.size() == 13);
  CHECK(std::get<ClickLabel>(steps[0].what).label == "Begin");
  const auto& press =
      std::get<window::input::PointerButton>(std::get<window::InputContent>(steps[2].what));
  CHECK(press.down);
  CHECK(press.x_px == 520);
  CHECK(press.y_px == 310.5);
  const auto& key =
      std::get<window::input::KeyChange>(std::get<window::InputContent>(steps[4].what));
  CHECK(key.key == window::Key::a);
  CHECK(steps[4].modifiers.shift);
  CHECK(std::get<TakePicture>(steps[12].what).path == "end.png");

  const Result<std::vector<ScriptStep>> bad =
      parse_script("0 click Begin\nsoon click\n5 jump\n6 key Hyper\n7 move 3\n-1 press\n");
  REQUIRE_FALSE(bad.ok());
  REQUIRE(bad.problems().size() == 5);
  CHECK(bad.problems()[0].place == "line 2");
  CHECK(bad.problems()[4].place == "line 6");
}

TEST_CASE("the shelf holds the cases by the path, and names the files it could not read") {
  const CaseShelf shelf = read_case_shelf(support::source_dir() + "/scenarios");
  REQUIRE(shelf.cases.size() >= 40);
  CHECK(shelf.trouble.empty());
  CHECK(shelf.cases.front().key == "no_deviation");
  int step = 1;
  for (const ShelfEntry& each : shelf.cases) {
    INFO(each.key);
    CHECK(each.head.step >= step);
    CHECK(each.head.step <= 9);
    CHECK(each.head.level >= 1);
    step = each.head.step;
    // What the list shows is what the whole case has.
    const Result<ShelvedCase> whole = read_shelved_case(each.path);
    REQUIRE(whole.ok());
    const Case& content = whole.value().content;
    CHECK_FALSE(content.teaching.goal.empty());
    CHECK_FALSE(content.patient.name.empty());
    CHECK(each.head.goal == content.teaching.goal);
    CHECK(each.head.level == content.teaching.level);
    CHECK(each.head.step == content.teaching.step);
    CHECK(each.head.title == content.title);
    CHECK(each.head.name == content.patient.name);
    CHECK(each.head.age_years == content.patient.age_years);
  }
  TemporaryFolder folder;
  std::filesystem::copy_file(shelf.cases.front().path, folder.path() + "/good.json");
  write_text(folder.path() + "/bad.json", "{\"format\": \"redress-case\"");
  const CaseShelf mixed = read_case_shelf(folder.path());
  CHECK(mixed.cases.size() == 1);
  CHECK(mixed.trouble.find("bad.json") != std::string::npos);
  CHECK_FALSE(read_case_shelf(folder.path() + "/none").trouble.empty());
}

TEST_CASE("the list of cases never names what is there") {
  const CaseShelf shelf = read_case_shelf(support::source_dir() + "/scenarios");
  for (const ShelfEntry& each : shelf.cases) {
    const std::string said = each.head.title + " " + each.head.goal;
    for (const std::string word :
         {"phoria", "tropia", "exo", "eso", "micro", "squint", "insufficiency", "excess"}) {
      INFO(each.key << ": " << said << " holds " << word);
      CHECK(said.find(word) == std::string::npos);
    }
  }
}

TEST_CASE("a key that two acts would have is told with its place and the other act") {
  const auto read = parse_preferences(
      R"({"format":"redress-preferences","version":1,"keys":[{"does":"story","usage":27}]})");
  REQUIRE_FALSE(read.ok());
  REQUIRE(read.problems().size() == 1);
  CHECK(read.problems()[0].place == "/keys/0");
  CHECK(read.problems()[0].message == "“story” cannot lie on that key: “say or ask” does");
}
