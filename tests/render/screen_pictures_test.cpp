// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Pictures of every screen, at three sizes and in both themes, as the program draws them. They stay
// in the build folder (screens/) to be looked at. Each is made, is of the right size, is not blank,
// cuts no text, and what is written and outlined stands out from its ground, measured in pixels:
// text 4.5 : 1, outlines 3 : 1 (WCAG 2.1, 1.4.3 and 1.4.11).
#include <catch2/catch.hpp>
#include <filesystem>
#include <fstream>
#include <set>
#include <string>
#include <vector>

#include "sim/assessment/station_writer.hpp"
#include "sim/assessment/store.hpp"
#include "sim/cases/setup.hpp"
#include "sim/record/run.hpp"
#include "tests/render/program_run.hpp"
#include "tests/render/screen_pixels.hpp"
#include "tests/render/sitting_on_screen.hpp"
#include "tests/support/places.hpp"
#include "tests/support/temporary_folder.hpp"

using namespace redress;
using namespace redress::test;
using redress::tests::TemporaryFolder;

namespace {

constexpr double kTextContrast = 4.5;
constexpr double kOutlineContrast = 3.0;

struct Setting {
  int width;
  int height;
  int scale;
  const char* theme;
  [[nodiscard]] bool compact() const { return height / scale < 560; }
  [[nodiscard]] std::string name() const {
    return std::to_string(width) + "x" + std::to_string(height) + "_scale" + std::to_string(scale) +
           "_" + theme;
  }
};

/// A script that goes on by itself in time.
class Script {
 public:
  Script(std::string folder, std::string setting) : folder_(std::move(folder)), end_(setting) {}
  Script& after(int ms) {
    now_ += ms;
    return *this;
  }
  Script& does(const std::string& what) {
    text_ += std::to_string(now_) + " " + what + "\n";
    now_ += 200;
    return *this;
  }
  Script& shot(const std::string& screen) {
    after(200);
    const std::string path = folder_ + "/" + screen + "_" + end_ + ".png";
    shots_.insert(path);
    return does("shot " + path);
  }
  [[nodiscard]] const std::string& text() const { return text_; }
  [[nodiscard]] const std::set<std::string>& shots() const { return shots_; }

 private:
  std::string folder_;
  std::string end_;
  std::string text_;
  std::set<std::string> shots_;
  int now_ = 300;
};

void play_room(Script& s, const Setting& setting) {
  s.shot("examine");
  s.does("key A").after(600).shot("examine_occluder");
  s.does("key F 1 E E").after(900).shot("examine_prism");
  s.does("key Space").after(900).does("key S").after(600);
  for (const auto& [key, name] : std::vector<std::pair<std::string, std::string>>{
           {"T", "target"}, {"X", "say"}, {"C", "correction"}, {"H", "story"}, {"F12", "help"}}) {
    s.does("key " + key).shot("drawer_" + name).does("key Esc");
  }
  s.does("click prism").shot("drawer_prism").does("key Esc");
  if (!setting.compact()) s.does("click view").shot("drawer_view").does("key Esc");
  s.does("key Z").after(200).shot("examine_closer").does("key Z").does("key Z");
  s.does("key X 7").after(900).shot("examine_answer");
  s.does("click leave").shot("examine_leaving").does("click Stay");
}

void play_card(Script& s, const Setting& setting) {
  s.does("key /").after(400).does("type 6 m sc 6 XOP rapid rec").shot("record_typing");
  s.does("key Enter");
  s.does("type 6 m sc PCT 6 XOP").does("key Enter").shot("record_beside");
  s.does("click Impression and plan").shot("record_whole");
  s.does("click impression").does("type exophoria").does("key Enter").shot("record_impression");
  s.does("click Finish and see the debrief").after(600).shot("debrief");
  if (setting.width / setting.scale >= 1280) {
    s.does("click Every mark").shot("debrief_every_mark");
    s.does("click What if").after(600).shot("debrief_what_if");
    s.does("click watch both").after(400).shot("debrief_side_by_side");
    return;
  }
  for (const std::string tab : {"Written", "Marks lost", "Next time", "Every mark", "What if"}) {
    std::string name = tab;
    std::replace(name.begin(), name.end(), ' ', '_');
    s.does("click " + tab).shot("debrief_" + name);
  }
}

/// What lies below the edge of a low window is scrolled into sight.
void click_below(Script& s, const Setting& setting, const std::string& label) {
  if (setting.compact()) {
    s.does("move " + std::to_string(setting.width / 2) + " " + std::to_string(setting.height / 2));
    s.does("wheel -30").after(200);
  }
  s.does("click " + label).after(400);
}

/// From the sealed circuit to its rest, with the invigilator's page on the way.
void play_sitting(Script& s, const Setting& setting) {
  const auto opens = [&](const std::string& passphrase) -> Script& {
    s.does("click passphrase").does("type " + passphrase).does("key Enter");
    return s.after(400);
  };
  s.shot("assessment_open");
  opens("not this one at all").shot("assessment_refused").after(2000);
  opens(kSittingPassphrase).shot("assessment_workstation");
  click_below(s, setting, "Ready for the candidate");
  s.does("click desk/candidate").does("type 0417").shot("assessment_candidate");
  click_below(s, setting, "Begin the practice minute");
  s.after(400).shot("assessment_practice");
  const auto hands_in = [&] {
    s.does("key N").after(400).does("click Impression and plan").after(400);
    s.does("click Finish and hand in").after(400);
  };
  hands_in();
  s.shot("assessment_before").does("click Begin reading").after(400);
  s.shot("assessment_reading").after(10'500).shot("assessment_station");
  s.does("key A").after(600).shot("assessment_station_occluder").does("key A").after(600);
  s.does("key J").after(400).shot("assessment_tasks").does("key J").after(400);
  s.does("key F11").after(400).shot("assessment_invigilator_asks");
  opens(kSittingPassphrase).shot("assessment_invigilator");
  s.does("click Back to the candidate").after(400);
  hands_in();
  s.shot("assessment_handing_in").does("click Hand in").after(400).shot("assessment_after");
  s.does("click Go on").after(400).shot("assessment_rest");
}

/// A day of one small circuit: two candidates, of whom one was cut short, in a store.
struct AssessmentDay {
  TemporaryFolder folder;
  std::string sealed = seal_small_circuit(folder.path(), {});

  AssessmentDay() {
    std::filesystem::create_directories(folder / "own/circuits");
    std::filesystem::copy(support::scenario_path("exophoria"), folder / "own/exophoria.json");
    std::filesystem::copy(sealed, folder / "own/circuits/day.sealed");
    std::ofstream(folder / "own/circuits/two.json") << R"({
      "format": "redress-circuit", "version": 1, "title": "One patient and a rest",
      "pass": {"standard": "fixed", "mark": 50, "stations": 1},
      "stations": [{"name": "Held straight", "case": "../exophoria.json", "seeds": [7],
        "reading_s": 60, "tasks": ["Find and record any deviation at 6 m."],
        "procedures": ["cover_uncover", "prism_cover"], "time_s": 360}, {"rest_s": 120}]})";
    const auto circuit =
        assessment::open_circuit(read_file(sealed).value(), kSittingPassphrase).value();
    assessment::Store store = assessment::Store::open(folder / "own/results.sqlite").value();
    for (const char* candidate : {"0388", "0417"}) {
      for (const std::size_t station : {0U, 2U}) {
        std::string kept = keep(circuit, candidate, station);
        const bool cut = station == 2 && std::string_view(candidate) == "0417";
        if (cut) kept.resize(kept.size() / 2);
        const assessment::HandIn one{kept, "2026-11-28 12:00"};
        REQUIRE(store.hand_in(std::span(&one, 1)).ok());
      }
    }
  }
  std::string keep(const assessment::OpenedCircuit& circuit, const std::string& candidate,
                   std::size_t station) const {
    const assessment::Form& form = circuit.forms[station].front();
    const auto key = assessment::make_workstation_key(circuit.keys, "desk 3");
    const std::string path = folder / assessment::make_station_name(candidate, station);
    record::RunOptions options;
    options.chance = {form.seed, 1.0, true};
    options.until_ms = 20'000;
    {
      assessment::StationWriter writer(path, {circuit.keys.id(), "desk 3", candidate, station}, key,
                                       record::make_header(form.written, form.seed, 1.0), false);
      const std::vector<Act> acts{{1000, act::Cover{}}, {4000, act::Uncover{}}};
      record::run(setup_of(form.content), acts, options, writer);
    }
    return read_file(path).value();
  }
};

/// Blind, then with what was there, then everything that can be written.
void play_results(Script& s, const Setting& setting) {
  s.shot("results_open");
  click_below(s, setting, "assessor");
  s.does("type A. Perera");
  click_below(s, setting, "passphrase");
  s.does(std::string("type ") + kSittingPassphrase).does("key Enter").after(600);
  s.shot("results_list");
  s.does("click desk/0388 station 1").after(400).shot("results_station");
  s.does("click Watch it").after(1200).shot("results_watched_blind");
  s.does("click Marks").after(400);
  click_below(s, setting, "Show them without rating");
  s.shot("results_marks");
}

PixelBox to_box(const nlohmann::json& rect) {
  return {rect[0].get<int>(), rect[1].get<int>(), rect[2].get<int>(), rect[3].get<int>()};
}

/// Whether a region that was drawn later lies over it.
bool is_covered(const nlohmann::json& screen, const std::string& region, const PixelBox& box) {
  bool later = false;
  for (const auto& each : screen["regions"]) {
    if (later && to_box(each["rect"]).overlaps(box)) return true;
    if (each["name"] == region) later = true;
  }
  return false;
}

struct Measured {
  int texts = 0;
  int outlines = 0;
};

Measured check_texts(const nlohmann::json& screen, const draw::Pixels& picture, int scale) {
  Measured measured;
  for (const auto& text : screen["texts"]) {
    INFO("[" << text["region"] << "] " << text["text"]);
    // The sheet of parts is for developers, and made for a larger window.
    if (!text["region"].get<std::string>().starts_with("gallery")) {
      CHECK(text["fits"].get<bool>());
    }
    // A dash is a single stroke and may fall between two rows of pixels.
    if (text["text"] == "–") continue;
    PixelBox box = clip(to_box(text["rect"]), picture);
    // Nor is a line of which the edge of what scrolls leaves no letters.
    if (box.w < 4 || box.h < 12 * scale || is_covered(screen, text["region"], box)) continue;
    // Without what lies above and below the letters: an underline is not text.
    box = {box.x, box.y + box.h / 5, box.w, box.h - 2 * (box.h / 5)};
    const Ground ground = find_ground(picture, box);
    const double contrast = test::measure_text(picture, box, ground);
    INFO("contrast " << contrast << " at " << box.x << ", " << box.y);
    CHECK(contrast >= kTextContrast);
    ++measured.texts;
  }
  return measured;
}

int check_outlines(const nlohmann::json& screen, const draw::Pixels& picture, int scale) {
  int measured = 0;
  for (const auto& outline : screen["outlines"]) {
    const PixelBox box = to_box(outline["rect"]);
    const PixelBox visible = to_box(outline["visible"]);
    if (visible.w < box.w || visible.h < box.h || box.w < 12 || box.h < 12) continue;
    if (is_covered(screen, outline["region"], box)) continue;
    const double contrast = measure_outline(picture, box, scale);
    INFO("[" << outline["region"] << "] outline at " << box.x << ", " << box.y << ", " << box.w
             << " x " << box.h << ": " << contrast);
    CHECK(contrast >= kOutlineContrast);
    ++measured;
  }
  return measured;
}

void check_pictures(const std::string& parts_path, const Setting& setting,
                    const std::set<std::string>& wanted) {
  std::set<std::string> found;
  int outlines = 0;
  for (const nlohmann::json& screen : read_lines(parts_path)) {
    for (const std::string path : screen["shots"]) {
      INFO(path);
      const auto picture = read_png(path);
      REQUIRE(picture);
      CHECK(picture->width == setting.width);
      CHECK(picture->height == setting.height);
      CHECK(find_ground(*picture, {0, 0, picture->width, picture->height}).part < 0.97);
      const Measured measured = check_texts(screen, *picture, setting.scale);
      CHECK(measured.texts >= 5);
      outlines += check_outlines(screen, *picture, setting.scale);
      found.insert(path);
    }
  }
  CHECK(found == wanted);
  CHECK(outlines >= 1);
}

/// The program plays the script and leaves its pictures, which are looked at.
void play(const Setting& setting, const std::string& options, const Script& script,
          const std::string& own_folder = {}) {
  std::filesystem::create_directories(support::screens_dir());
  const TemporaryFolder own;
  std::ofstream(own.path() + "/script.txt") << script.text();
  const std::string common = " --width " + std::to_string(setting.width) + " --height " +
                             std::to_string(setting.height) + " --scale " +
                             std::to_string(setting.scale) + " --theme " + setting.theme +
                             " --seed 12 --step-ms 100 --card-folded";
  const Answer answer =
      run_program(kOffscreen, "--own-folder " + (own_folder.empty() ? own.path() : own_folder) +
                                  common + " --script " + own.path() + "/script.txt --parts-file " +
                                  own.path() + "/parts.jsonl " + options);
  INFO(answer.said);
  REQUIRE(answer.code == 0);
  check_pictures(own.path() + "/parts.jsonl", setting, script.shots());
}

void make_pictures(const Setting& setting) {
  const std::string folder = support::screens_dir();
  Script room(folder, setting.name());
  play_room(room, setting);
  play_card(room, setting);
  play(setting, "--case " + support::scenario_path("exophoria"), room);
  for (const std::string screen :
       {"first-run", "calibrate", "cases", "supply", "editor", "progress", "train", "parts"}) {
    Script one(folder, setting.name());
    one.shot(screen);
    play(setting, "--screen " + screen, one);
  }
}

void make_assessment_pictures(const Setting& setting) {
  const std::string folder = support::screens_dir();
  const AssessmentDay day;
  Script sitting(folder, setting.name());
  play_sitting(sitting, setting);
  play(setting, "--sit " + day.sealed + " --workstation \"desk 3\"", sitting);
  Script composing(folder, setting.name());
  composing.shot("compose");
  play(setting, "--screen compose", composing, day.folder / "own");
  Script results(folder, setting.name());
  play_results(results, setting);
  play(setting, "--screen results", results, day.folder / "own");
}

}  // namespace

// A test for each setting, so that they run beside each other.
TEST_CASE("pictures of every screen: 1280 x 720, light", "[pictures]") {
  make_pictures({1280, 720, 1, "light"});
}
TEST_CASE("pictures of every screen: 1280 x 720, dim", "[pictures]") {
  make_pictures({1280, 720, 1, "dim"});
}
TEST_CASE("pictures of every screen: 1440 x 900, light", "[pictures]") {
  make_pictures({1440, 900, 1, "light"});
}
TEST_CASE("pictures of every screen: 1440 x 900, dim", "[pictures]") {
  make_pictures({1440, 900, 1, "dim"});
}
TEST_CASE("pictures of every screen: 1920 x 1080, light", "[pictures]") {
  make_pictures({1920, 1080, 1, "light"});
}
TEST_CASE("pictures of every screen: 1920 x 1080, dim", "[pictures]") {
  make_pictures({1920, 1080, 1, "dim"});
}
TEST_CASE("pictures of every screen: 1280 x 720 at scale 2, light", "[pictures]") {
  make_pictures({1280, 720, 2, "light"});
}
TEST_CASE("pictures of every screen: 1280 x 720 at scale 2, dim", "[pictures]") {
  make_pictures({1280, 720, 2, "dim"});
}

// The three that differ most: each costs the pictures of a whole day.
TEST_CASE("pictures of an assessment: 1280 x 720, dim", "[pictures]") {
  make_assessment_pictures({1280, 720, 1, "dim"});
}
TEST_CASE("pictures of an assessment: 1920 x 1080, light", "[pictures]") {
  make_assessment_pictures({1920, 1080, 1, "light"});
}
TEST_CASE("pictures of an assessment: 1280 x 720 at scale 2, light", "[pictures]") {
  make_assessment_pictures({1280, 720, 2, "light"});
}
