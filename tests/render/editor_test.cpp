// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The case editor: every field of every section fits and writes where the reader reads, what is not
// allowed is kept and told, a new case is written by keys and mouse and is what was meant.
#include <filesystem>
#include <fstream>
#include <iterator>
#include <set>
#include <string>

#include <catch2/catch.hpp>

#include "render/app/editing.hpp"
#include "sim/basics/file.hpp"
#include "sim/cases/case_file.hpp"
#include "tests/render/headless_ui.hpp"
#include "tests/support/places.hpp"
#include "tests/support/read_only_folder.hpp"
#include "tests/support/small_files.hpp"
#include "tests/support/temporary_folder.hpp"

using namespace redress;
using namespace redress::screens;
using namespace redress::screens::editor;
using redress::app::Editing;
using redress::test::HeadlessUi;
using redress::tests::SmallFiles;
using redress::tests::TemporaryFolder;

namespace fs = std::filesystem;

namespace {

const WindowSize kSizes[] = {{1920, 1080, 1}, {1440, 900, 1}, {1280, 720, 1}, {1280, 720, 2}};

struct Desk {
  explicit Desk(std::string path, WindowSize size = {1440, 900, 1}, Theme theme = Theme::light)
      : ui(size, theme), window(size) {
    auto opened = Editing::open(path, own.path() + "/cases", own.path() + "/kept");
    REQUIRE(opened.ok());
    editing = std::move(opened).value();
  }
  void draw(Ui& u) {
    const app::EditingOutcome now = editing->draw(u, window, "14:02");
    outcome.leave = outcome.leave || now.leave;
    outcome.examine = outcome.examine || now.examine;
  }
  void click(std::string_view label) {
    ui.click(label, [this](Ui& u) { draw(u); });
  }
  void settle() {
    ui.settle([this](Ui& u) { draw(u); });
  }
  void write(std::string_view id, std::string_view text) {
    click(id);
    ui.press(window::Key::a, [this](Ui& u) { draw(u); }, {.control = true});
    ui.type(text, [this](Ui& u) { draw(u); });
    ui.press(window::Key::enter, [this](Ui& u) { draw(u); });
  }
  TemporaryFolder own;
  HeadlessUi ui;
  WindowSize window;
  std::unique_ptr<Editing> editing;
  app::EditingOutcome outcome;
};

std::string shipped(const std::string& name) { return support::scenario_path(name); }

}  // namespace

TEST_CASE("the editor: all words fit in every section, size and theme, and no two parts overlap") {
  const Case of_whom = read_case_text(read_file(shipped("floor_fracture")).value()).value();
  const redress::assessment::Difficulty difficulty =
      *redress::assessment::calc_difficulty(of_whom, 3, 1, [] { return true; });
  for (const WindowSize& size : kSizes) {
    for (const Theme theme : {Theme::light, Theme::dim}) {
      Desk desk(shipped("floor_fracture"), size, theme);
      desk.editing->wait();
      EditorState state;
      for (std::size_t i = 0; i < kSections + 2; ++i) {
        state.section = static_cast<Section>(std::min(i, kSections - 1));
        state.turn = i < kSections    ? Turn::fields
                     : i == kSections ? Turn::findings
                                      : Turn::difficulty;
        EditorModel model(desk.editing->edit());
        model.file = "floor_fracture_with_a_rather_long_name.json";
        model.saved = "Saved 14:02";
        model.changed = true;
        model.study = &*desk.editing->study();
        model.difficulty = &difficulty;
        model.judging = i % 2 == 1;
        desk.ui.settle([&](Ui& u) { draw_editor(u, make_editor_layout(size), model, state); });
        INFO(size.width_px << " at " << size.scale << ", " << title_of(state.section));
        CHECK(desk.ui.misfits() == "");
        const auto& regions = desk.ui.probe().regions();
        for (const ProbedRegion& a : regions) {
          for (const ProbedRegion& b : regions) {
            if (&a != &b) CHECK_FALSE(a.rect.overlaps(b.rect));
          }
        }
      }
    }
  }
}

TEST_CASE("each field of the editor stands for one place that the reader knows") {
  CaseDraft draft = CaseDraft::begin("new");
  std::set<std::string> places;
  for (const Field& field : fields()) {
    if (field.pointer.empty()) continue;
    for (const Eye eye : kBothEyes) {
      const std::string place = place_of(field, eye);
      if (!places.insert(place).second) {
        CHECK(place == field.pointer);  // only what is not of one eye comes twice
        continue;
      }
      INFO(place);
      CHECK(section_of(place) == field.section);
      // Something that is allowed, however the rest of the case takes it: no unknown key.
      CaseDraft one = CaseDraft::begin("new");
      std::string text = "words";
      if (field.kind == FieldKind::number) {
        text = std::to_string(field.least <= 0 && field.most >= 0 ? 0 : field.least);
      }
      if (field.kind == FieldKind::three) text = "– / 10 / 5";
      if (field.kind == FieldKind::two) text = "3 / 1";
      if (field.kind == FieldKind::pairs) text = "20 / −12; 2 / −4";
      if (field.kind == FieldKind::yes_no) text = "yes";
      if (field.kind == FieldKind::choice) text = field.choices.front();
      CHECK(write_text(one, field, eye, text) == "");
      if (one.content().ok()) continue;
      for (const Problem& problem : one.content().problems()) {
        INFO(problem.place << " " << problem.message);
        CHECK(problem.message.find("unknown") == std::string::npos);
      }
    }
  }
}

namespace {

/// Every place that the schema has and that holds no further ones; an eye's as "right".
void list_places(const nlohmann::json& schema, const nlohmann::json& part, const std::string& place,
                 std::set<std::string>& places) {
  if (part.contains("$ref")) {
    const std::string ref = part.at("$ref").get<std::string>();
    list_places(schema, schema.at(nlohmann::json::json_pointer(ref.substr(1))), place, places);
    return;
  }
  if (part.contains("anyOf") || part.contains("oneOf")) {
    for (const auto& one : part.at(part.contains("anyOf") ? "anyOf" : "oneOf")) {
      if (one.value("type", "") != "null") list_places(schema, one, place, places);
    }
    return;
  }
  if (part.contains("properties")) {
    for (const auto& [key, member] : part.at("properties").items()) {
      if (key == "left") continue;  // as the right one
      list_places(schema, member, place + "/" + key, places);
    }
    return;
  }
  const bool rows = part.contains("items") && part.at("items").is_object() &&
                    part.at("items").contains("properties");
  if (rows) {
    for (const auto& [key, member] : part.at("items").at("properties").items()) {
      places.insert(place + "/0/" + key);
    }
    return;
  }
  places.insert(place);
}

}  // namespace

TEST_CASE("all that the schema of cases knows can be written in the editor") {
  const nlohmann::json schema = nlohmann::json::parse(
      read_file(support::source_dir() + "/scenarios/case.schema.json").value());
  std::set<std::string> places;
  list_places(schema, schema, "", places);
  CHECK(places.size() > 100);
  // What is always the same, and free keys, of which the editor has the usual ones.
  for (const char* not_written : {"/format", "/version", "/patient/answers", "/on_file"}) {
    places.erase(not_written);
  }
  for (const Field& field : fields()) {
    if (!field.pointer.empty()) places.erase(place_of(field, Eye::right));
  }
  for (const std::string& place : places) {
    INFO(place);
    CHECK(place == "");
  }
}

TEST_CASE("a range that the editor states is the one that the reader holds") {
  for (const Field& field : fields()) {
    if (field.kind != FieldKind::number) continue;
    for (const double beyond : {field.least - 1, field.most + 1}) {
      CaseDraft draft = CaseDraft::begin("new");
      const std::string place = place_of(field, Eye::right);
      INFO(place << " " << beyond);
      draft.set(place, beyond, "beyond");
      CHECK_FALSE(draft.content().ok());
      CaseDraft typed = CaseDraft::begin("new");
      CHECK(write_text(typed, field, Eye::right, std::to_string(beyond)) != "");
      CHECK(typed.undo_name().empty());
    }
  }
}

TEST_CASE("what is not allowed is kept as typed, told, and never lost or written") {
  Desk desk(shipped("exophoria"));
  desk.click("Deviation");
  desk.write("fields//deviation/near_pd//deviation/near_pd", "400");
  CHECK(desk.ui.probe().shows("400 is outside; allowed: −100 to 100"));
  CHECK(desk.editing->draft().content().value().deviation.near.value == -9.0);
  desk.write("fields//deviation/near_pd//deviation/near_pd", "−12,5");
  CHECK_FALSE(desk.ui.probe().shows("400 is outside; allowed: −100 to 100"));
  CHECK(desk.editing->draft().content().value().deviation.near.value == -12.5);
  CHECK(desk.editing->draft().undo_name() == "At 40 cm");
  desk.click("editor bar/undo");
  CHECK(desk.editing->draft().content().value().deviation.near.value == -9.0);
}

TEST_CASE("a new case is written, computed, saved and read again, and examined") {
  Desk desk("");
  const auto at = [](const char* place) { return std::string("fields/") + place + "/" + place; };
  desk.write(at("/title"), "Letters run together");
  desk.write(at("/patient/age_years"), "21");
  desk.click("Deviation");
  desk.write(at("/deviation/distance_pd"), "−1");
  desk.write(at("/deviation/near_pd"), "−9");
  desk.write(at("/deviation/ac_a_pd_per_d"), "2");
  desk.click("Fusion");
  desk.write(at("/fusion/near/base_out_pd"), "7 / 12 / 6");
  desk.click("Expected");
  desk.write(at("/expected/diagnosis"), "basic esophoria");
  REQUIRE(desk.editing->draft().content().ok());
  desk.editing->wait();
  desk.settle();
  REQUIRE(desk.editing->study());
  CHECK_FALSE(desk.editing->study()->disagreements.empty());
  CHECK(desk.ui.probe().shows("Take the computed"));
  desk.click("Take the computed");
  desk.editing->wait();
  desk.settle();
  CHECK(desk.editing->draft().content().value().expected.diagnosis ==
        desk.editing->study()->truth.diagnosis);
  desk.click("Save");
  CHECK(desk.editing->trouble() == "");
  CHECK(desk.editing->path().ends_with("/cases/letters_run_together.json"));
  const auto text = read_file(desk.editing->path());
  REQUIRE(text.ok());
  const auto saved = read_case_text(text.value());
  REQUIRE(saved.ok());
  CHECK(saved.value().patient.age_years == 21.0);
  CHECK(saved.value().fusion.near.base_out.break_point.value == 12.0);
  desk.click("Examine it myself");
  CHECK(desk.outcome.examine);
}

TEST_CASE("deviations come first, the rest follows and stays") {
  Desk desk(shipped("exophoria"));
  Editing& editing = *desk.editing;
  editing.wait_for_deviations();
  REQUIRE(editing.study());
  CHECK(editing.study()->truth.gaze.size() == 18);
  editing.wait();
  for (int frame = 0; frame < 3; ++frame) {
    CHECK(editing.study()->is_whole());
    CHECK(editing.study()->truth.diagnosis == "exophoria");
    CHECK_FALSE(editing.study()->traces.right_pd.empty());
    editing.advance(20.0 * frame);
  }
  // What was found of the old draft stands beside the new deviations until its own is there.
  editing.edit().set("/deviation/near_pd", 5, "near");
  editing.edit().set("/deviation/distance_pd", 6, "distance");
  editing.wait_for_deviations();
  if (!editing.study()->is_whole()) CHECK(editing.study()->truth.diagnosis == "exophoria");
  editing.wait();
  CHECK(editing.study()->truth.diagnosis.find("eso") != std::string::npos);
}

TEST_CASE("a backup is kept, a change on disk is noticed, unsaved work outlives a crash") {
  const TemporaryFolder folder;
  const std::string path = folder.path() + "/mine.json";
  std::filesystem::copy_file(shipped("exophoria"), path);
  const std::string original = read_file(path).value();
  const auto open = [&] {
    auto opened = Editing::open(path, folder.path(), folder.path() + "/kept");
    REQUIRE(opened.ok());
    return std::move(opened).value();
  };
  auto first = open();
  first->edit().set("/deviation/near_pd", -10, "near");
  first->advance(0);
  first.reset();  // as after a crash: nothing was saved
  CHECK(read_file(path).value() == original);

  auto second = open();
  CHECK(*second->draft().find("/deviation/near_pd") == -10);
  CHECK(second->draft().undo_name() == "what was not saved");
  second->save("14:02");
  CHECK(read_file(path + ".before").value() == original);
  CHECK(read_file(path).value().find("\"near_pd\": -10") != std::string::npos);
  CHECK(std::filesystem::is_empty(folder.path() + "/kept"));

  std::ofstream(path, std::ios::binary) << original;  // somebody else
  second->edit().set("/deviation/near_pd", -11, "near");
  second->save("14:03");
  CHECK(second->asks_whose());
  CHECK(read_file(path).value() == original);
  second->take_theirs();
  CHECK_FALSE(second->draft().is_changed());
  CHECK(*second->draft().find("/deviation/near_pd") == -9);
  second->edit().undo();
  CHECK(*second->draft().find("/deviation/near_pd") == -11);

  std::ofstream(path, std::ios::binary) << original << "\n";
  second->save("14:04");
  REQUIRE(second->asks_whose());
  second->keep_mine("14:05");
  CHECK(read_file(path).value().find("\"near_pd\": -11") != std::string::npos);
}

TEST_CASE("what was not saved of one file is not offered for another of the same name") {
  const TemporaryFolder folder;
  for (const char* place : {"/one", "/other"}) {
    std::filesystem::create_directory(folder.path() + place);
    std::filesystem::copy_file(shipped("exophoria"), folder.path() + place + "/mine.json");
  }
  const auto open = [&](const std::string& place) {
    auto opened =
        Editing::open(folder.path() + place + "/mine.json", folder.path(), folder.path() + "/kept");
    REQUIRE(opened.ok());
    return std::move(opened).value();
  };
  auto one = open("/one");
  one->edit().set("/deviation/near_pd", -10, "near");
  one->advance(0);
  one.reset();
  CHECK(open("/other")->trouble().empty());
  CHECK_FALSE(open("/one")->trouble().empty());
}

TEST_CASE("a folder that takes no file says so, and the edit stays") {
  const TemporaryFolder folder;
  std::ofstream(folder.path() + "/in_the_way") << "a file";
  auto opened = Editing::open("", folder.path() + "/in_the_way", "");
  REQUIRE(opened.ok());
  Editing& editing = *opened.value();
  editing.edit().set("/title", "Mine", "title");
  editing.save("14:02");
  CHECK(editing.trouble().find("Not saved, your edit is kept") == 0);
  CHECK(editing.draft().is_changed());
}

TEST_CASE("a read-only folder and a full disk keep file and edit, and saving goes on afterwards") {
  const TemporaryFolder folder;
  fs::permissions(folder.path(), fs::perms::all);
  const std::string ours = folder.path() + "/ours";
  fs::create_directory(ours);
  const std::string path = ours + "/mine.json";
  fs::copy_file(shipped("exophoria"), path);
  const std::string before = read_file(path).value();
  auto opened = Editing::open(path, ours, folder.path() + "/kept");
  REQUIRE(opened.ok());
  Editing& editing = *opened.value();
  editing.edit().set("/title", "Mine", "title");
  const auto refuses = [&] {
    editing.save("14:02");
    CHECK(editing.trouble().find("Not saved, your edit is kept") == 0);
    CHECK(editing.draft().is_changed());
    CHECK(read_file(path).value() == before);
    CHECK(std::distance(fs::directory_iterator(ours), fs::directory_iterator()) == 1);
  };
  {
    const tests::ReadOnlyFolder read_only(ours);
    refuses();
  }
  {
    const SmallFiles full(100);
    refuses();
  }
  editing.save("14:03");
  CHECK(editing.trouble().empty());
  CHECK_FALSE(editing.draft().is_changed());
  CHECK(read_file(path).value() != before);
  CHECK(read_file(path + ".before").value() == before);
}

TEST_CASE("how hard a case is comes after the findings, is given up at a change, and old stays") {
  Desk desk(shipped("exophoria"));
  desk.editing->wait();
  CHECK_FALSE(desk.editing->difficulty());
  desk.editing->wait_for_difficulty();
  desk.settle();
  REQUIRE(desk.editing->difficulty());
  CHECK(desk.editing->difficulty()->people == app::kPeopleOfEachSkill);
  CHECK(desk.ui.probe().shows("simulated of each"));
  const double before = desk.editing->difficulty()->mean_marks[0];

  desk.editing->edit().set("/deviation/near_pd", -3, "near");
  desk.editing->wait();
  desk.editing->advance(1e6);
  desk.editing->advance(2e6);
  desk.settle();
  CHECK(desk.ui.probe().shows("simulating"));
  // Another change while it is computed: nobody waits for the first any more.
  desk.editing->edit().set("/deviation/near_pd", -2, "near");
  desk.editing->advance(3e6);
  desk.settle();
  REQUIRE(desk.editing->difficulty());
  CHECK(desk.editing->difficulty()->mean_marks[0] == before);
  CHECK_FALSE(desk.ui.probe().shows("simulated of each"));
  desk.editing->wait_for_difficulty();
  CHECK(desk.editing->difficulty()->mean_marks[0] != before);
}

TEST_CASE(
    "a full disk and one that cannot be written say so, and the edit stays until it is saved") {
  const TemporaryFolder folder;
  const std::string path = folder.path() + "/mine.json";
  std::filesystem::copy_file(shipped("exophoria"), path);
  const std::string original = read_file(path).value();
  auto opened = Editing::open(path, folder.path(), folder.path() + "/kept");
  REQUIRE(opened.ok());
  Editing& editing = *opened.value();
  editing.edit().set("/deviation/near_pd", -10, "near");
  {
    const SmallFiles full(16);  // bytes: what a full disk does
    editing.advance(0);
    CHECK(editing.trouble().find("kept in memory alone") != std::string::npos);
    editing.save("14:02");
    CHECK(editing.trouble().find("Not saved, your edit is kept") == 0);
  }
  CHECK(read_file(path).value() == original);
  CHECK(*editing.draft().find("/deviation/near_pd") == -10);
  CHECK(editing.draft().is_changed());
  std::size_t files = 0;
  for (const auto& entry : std::filesystem::directory_iterator(folder.path())) {
    files += entry.is_regular_file() ? 1U : 0U;
  }
  CHECK(files == 1);      // no half of a file either
  editing.save("14:03");  // there is room again
  CHECK(editing.trouble().empty());
  CHECK(read_file(path).value().find("\"near_pd\": -10") != std::string::npos);

  // /sys takes no files of anybody, the superuser's neither.
  auto other = Editing::open("", "/sys/kernel", "");
  REQUIRE(other.ok());
  other.value()->edit().set("/title", "Mine", "title");
  other.value()->save("14:02");
  CHECK(other.value()->trouble().find("Not saved, your edit is kept") == 0);
  CHECK(other.value()->draft().is_changed());
}
