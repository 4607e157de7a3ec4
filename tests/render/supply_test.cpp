// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Patients drawn in the window, packs taken in and handed on, another folder: everything fits, what
// is inside is seen before anything is written, what is written is what the verbs write, and what
// cannot be is told and leaves nothing behind.
#include <algorithm>
#include <filesystem>
#include <fstream>
#include <set>
#include <string>

#include <catch2/catch.hpp>

#include "render/app/supplying.hpp"
#include "sim/basics/file.hpp"
#include "sim/cases/case_file.hpp"
#include "sim/program/generate.hpp"
#include "tests/render/headless_ui.hpp"
#include "tests/support/places.hpp"
#include "tests/support/temporary_folder.hpp"

using namespace redress;
using namespace redress::screens;
using redress::app::Supplying;
using redress::app::SupplyingOutcome;
using redress::test::HeadlessUi;
using redress::tests::TemporaryFolder;

namespace fs = std::filesystem;

namespace {

struct Desk {
  explicit Desk(std::vector<CaseRow> shown = {}, WindowSize size = {1440, 900, 1})
      : ui(size), window(size), supplying(own(), std::move(shown)) {}
  [[nodiscard]] std::string own() const { return folder.path() + "/mine"; }
  void draw(Ui& u) {
    const SupplyingOutcome now = supplying.draw(u, window);
    if (now.folder) outcome.folder = now.folder;
    outcome.leave = outcome.leave || now.leave;
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
  [[nodiscard]] std::set<std::string> files() const {
    std::set<std::string> names;
    std::error_code error;
    for (const auto& entry : fs::directory_iterator(own(), error)) {
      names.insert(entry.path().filename().string());
    }
    return names;
  }
  TemporaryFolder folder;
  HeadlessUi ui;
  WindowSize window;
  Supplying supplying;
  SupplyingOutcome outcome;
};

CaseRow row_of(const std::string& name) {
  CaseRow row;
  row.file = support::scenario_path(name);
  row.name = "Tamsin Oakley";
  row.complaint = name;
  row.age_years = 22.9;
  return row;
}

}  // namespace

TEST_CASE("where cases come from: all fits, in every part and at every size") {
  for (const WindowSize size :
       {WindowSize{1920, 1080, 1}, {1440, 900, 1}, {1280, 720, 1}, {1280, 720, 2}}) {
    for (const SupplyPart part :
         {SupplyPart::draw, SupplyPart::take_in, SupplyPart::hand_on, SupplyPart::folder}) {
      SupplyModel model;
      model.diagnoses = program::generated_diagnoses();
      model.part = part;
      for (std::size_t i = 0; i < model.diagnoses.size(); ++i) {
        if (model.diagnoses[i].size() > model.diagnoses[model.diagnosis].size()) {
          model.diagnosis = i;
        }
      }
      model.own_folder = "/home/a/cases";
      model.path = "/home/a/cases/week1.json";
      model.folders = {"..", "first year"};
      model.inside = "10000 files of cases in it.";
      model.done = "120 cases put into /home/a/cases.";
      for (int i = 0; i < 30; ++i) {
        model.rows.push_back({true, "Tamsin Oakley, 23", "Letters run together", "", "x.json"});
      }
      HeadlessUi ui(size);
      ui.settle([&](Ui& u) { draw_supply(u, make_supply_layout(size), model); });
      INFO(size.width_px << " at " << size.scale << ", part " << static_cast<int>(part));
      CHECK(ui.misfits() == "");
    }
  }
}

TEST_CASE("drawn in the window: the cases of redress generate, seen before they are written") {
  Desk desk;
  desk.supplying.edit().count = 3;
  desk.supplying.edit().seed = 7;
  while (desk.supplying.model().diagnoses[desk.supplying.model().diagnosis] != "exophoria") {
    desk.click("supply form/one after");
  }
  desk.click("supply form/draw");
  CHECK(desk.supplying.is_working());
  desk.supplying.wait();
  desk.settle();
  REQUIRE(desk.supplying.model().rows.size() == 3);
  CHECK(desk.ui.probe().shows("AC/A"));
  CHECK(desk.files().empty());
  desk.click("supply list/case 1");
  CHECK_FALSE(desk.supplying.model().rows[1].chosen);
  desk.click("supply form/put");
  CHECK(desk.files() == std::set<std::string>{"exophoria_7_0001.json", "exophoria_7_0003.json"});
  const auto drawn = program::generate_cases("exophoria", 0.5, 7, 3);
  REQUIRE(drawn.ok());
  CHECK(read_file(desk.own() + "/exophoria_7_0003.json").value() ==
        drawn.value()[2].dump(2) + "\n");
  // The same again: what stands there stays, and it is told.
  desk.click("supply form/draw");
  desk.supplying.wait();
  desk.settle();
  desk.click("supply form/put");
  REQUIRE_FALSE(desk.supplying.model().problems.empty());
  CHECK(desk.supplying.model().problems[0].find("is there already") != std::string::npos);
  CHECK(desk.files().size() == 2);
}

TEST_CASE("drawing is stopped: what was found by then is there") {
  Desk desk;
  desk.supplying.edit().count = 500;
  desk.click("supply form/draw");
  desk.click("supply form/stop");
  desk.supplying.wait();
  CHECK_FALSE(desk.supplying.is_working());
  CHECK(desk.supplying.model().rows.size() < 500);
}

TEST_CASE("a pack goes out and comes in again, seen before it is written") {
  Desk out({row_of("exophoria"), row_of("microtropia")});
  out.click("Export a pack");
  REQUIRE(out.supplying.model().rows.size() == 2);
  const std::string path = out.folder.path() + "/week1.json";
  out.write("supply form/title", "Week 1");
  out.write("supply form/path", path);
  out.click("supply form/write");
  CHECK(out.supplying.model().problems.empty());
  REQUIRE(fs::exists(path));
  out.click("supply form/write");  // never over what is there
  CHECK_FALSE(out.supplying.model().problems.empty());

  Desk in;
  in.click("Import a pack");
  in.write("supply form/path", path);
  in.settle();
  CHECK(in.ui.probe().shows("Week 1"));
  REQUIRE(in.supplying.model().rows.size() == 2);
  CHECK(in.files().empty());
  in.click("supply form/put");
  CHECK(in.files() == std::set<std::string>{"exophoria.json", "microtropia.json"});
  CHECK(read_file(in.own() + "/exophoria.json").value() ==
        read_file(support::scenario_path("exophoria")).value());
}

TEST_CASE("a pack that is not whole is refused with the reason, and nothing is written") {
  Desk desk;
  const std::string path = desk.folder.path() + "/bad.json";
  std::ofstream(path) << R"({"format":"redress-pack","version":1,"title":"t","cases":[)"
                      << R"({"name":"../x.json","bytes":2,"checksum":"0","text":"{}"}]})";
  desk.click("Import a pack");
  desk.write("supply form/path", path);
  desk.settle();
  CHECK(desk.supplying.model().rows.empty());
  CHECK(desk.ui.probe().shows("/cases/0/name"));
  CHECK(desk.files().empty());
}

TEST_CASE("another folder: what is in it is counted, and it is opened") {
  Desk desk;
  fs::create_directories(desk.folder.path() + "/ours/first year");
  fs::copy_file(support::scenario_path("exophoria"), desk.folder.path() + "/ours/a.json");
  desk.click("Another folder");
  desk.write("supply form/path", desk.folder.path());
  desk.click("supply list/folder ours");
  desk.settle();
  CHECK(desk.ui.probe().shows("1 file of cases in it."));
  desk.click("supply form/open");
  REQUIRE(desk.outcome.folder);
  CHECK(*desk.outcome.folder == desk.folder.path() + "/ours");
  desk.supplying.edit().path = desk.folder.path() + "/none";
  desk.outcome = {};
  desk.click("supply form/open");
  CHECK_FALSE(desk.outcome.folder);
  CHECK_FALSE(desk.supplying.model().problems.empty());
}
