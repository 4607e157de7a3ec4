// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// A circuit is composed in the window: tried by the engine as it stands, rehearsed with simulated
// candidates, changed, saved and sealed.
#include <catch2/catch.hpp>

#include <filesystem>
#include <fstream>
#include <memory>
#include <string>

#include "render/app/composing.hpp"
#include "sim/assessment/circuit_file.hpp"
#include "sim/assessment/sealed_circuit.hpp"
#include "sim/basics/file.hpp"
#include "tests/render/headless_ui.hpp"
#include "tests/support/places.hpp"
#include "tests/support/temporary_folder.hpp"

using namespace redress;
using redress::screens::WindowSize;
using redress::test::HeadlessUi;

namespace {

constexpr WindowSize kUsual{1440, 2400, 1};

std::string write_circuit(const std::string& folder) {
  std::filesystem::copy(support::scenario_path("exophoria"), folder + "/exophoria.json");
  const nlohmann::json circuit = nlohmann::json::parse(R"({
    "format": "redress-circuit", "version": 1, "title": "One patient",
    "pass": {"standard": "fixed", "mark": 50, "stations": 1},
    "stations": [
      {"name": "Held straight", "case": "exophoria.json", "seeds": [7], "reading_s": 10,
       "tasks": ["Find and record any deviation at 6 m."], "procedures": ["cover_uncover"],
       "time_s": 480}]})");
  std::ofstream(folder + "/one.json") << circuit.dump();
  return folder + "/one.json";
}

}  // namespace

TEST_CASE("composing: other files are told apart, and nothing is written over them") {
  tests::TemporaryFolder folder;
  const std::string circuit = write_circuit(folder.path());
  const std::string a_case = folder / "exophoria.json";
  const std::string content = read_file(a_case).value();
  std::ofstream(folder / "torn.json") << R"({"format": "redress-circuit", "version": 1, "tit)";
  std::ofstream(folder / "notes.json") << "not JSON at all";
  app::ComposingOptions options;
  options.found = {a_case, folder / "notes.json", circuit, folder / "torn.json"};
  options.own_folder = folder / "own";
  options.sealed_folder = folder / "own";
  options.is_played = true;
  app::Composing composing(std::move(options));
  HeadlessUi ui(kUsual);
  const auto draw = [&](screens::Ui& u) { (void)composing.draw(u, kUsual); };
  ui.frame(draw);
  CHECK(ui.probe().shows("2 files beside them are no circuit and are not listed"));
  CHECK(ui.probe().shows("Held straight"));
  // A torn one says where, and the circuit that is open stays.
  ui.click("stations/found1", draw);
  CHECK(ui.probe().shows("torn.json” cannot be opened: "));
  CHECK(ui.probe().shows("Held straight"));
  ui.click("stations/path", draw);
  ui.press(window::Key::a, draw, {.control = true});
  ui.type(a_case, draw);
  ui.click("Save again", draw);
  CHECK(ui.probe().shows("is there already and is no circuit"));
  CHECK(read_file(a_case).value() == content);
}

TEST_CASE("composing: what was not saved is there again, until it is saved") {
  tests::TemporaryFolder folder;
  const std::string circuit = write_circuit(folder.path());
  const auto open = [&] {
    app::ComposingOptions options;
    options.found = {circuit};
    options.own_folder = folder / "own";
    options.sealed_folder = folder / "own";
    options.is_played = true;
    return std::make_unique<app::Composing>(std::move(options));
  };
  auto composing = open();
  HeadlessUi ui(kUsual);
  const auto draw = [&](screens::Ui& u) { (void)composing->draw(u, kUsual); };
  ui.frame(draw);
  ui.click("Rest", draw);
  CHECK(ui.probe().shows("2 stations"));
  composing = open();  // the window was closed, or it crashed
  ui.frame(draw);
  ui.frame(draw);
  CHECK(ui.probe().shows("2 stations"));
  CHECK(ui.probe().shows("This was not saved when it was left."));
  ui.click("Save", draw);
  CHECK(ui.probe().shows("is saved."));
  composing = open();
  ui.frame(draw);
  ui.frame(draw);
  CHECK(ui.probe().shows("2 stations"));
  CHECK_FALSE(ui.probe().shows("This was not saved"));
  // Another circuit takes the place of this one, and Undo brings it back.
  ui.click("New circuit", draw);
  CHECK(ui.probe().shows("First station"));
  ui.click("Undo", draw);
  CHECK(ui.probe().shows("2 stations"));
}

TEST_CASE("composing: a circuit is rehearsed in the window, and its report is written") {
  tests::TemporaryFolder folder;
  app::ComposingOptions options;
  options.found = {write_circuit(folder.path())};
  options.own_folder = folder / "own";
  options.sealed_folder = folder / "own";
  options.is_played = true;
  app::Composing composing(std::move(options));
  HeadlessUi ui(kUsual);
  const auto draw = [&](screens::Ui& u) {
    composing.advance();
    (void)composing.draw(u, kUsual);
  };
  ui.frame(draw);
  CHECK(ui.probe().shows("Rehearsal"));
  composing.wait();  // each station by itself first
  ui.frame(draw);
  CHECK_FALSE(ui.probe().shows("of 200 candidates pass"));
  ui.click("Rehearse", draw);
  ui.frame(draw);
  ui.frame(draw);
  CHECK(ui.probe().shows("of 200 candidates pass"));
  CHECK(ui.probe().shows("Pass mark 50.0"));
  CHECK(ui.probe().shows("Discriminates"));
  ui.click("Write its report", draw);
  CHECK(ui.probe().shows("one-rehearsal.html” was written."));
  const std::string report = read_file(folder / "own/one-rehearsal.html").value();
  CHECK(report.find("200") != std::string::npos);
  CHECK(report.find("Held straight") != std::string::npos);

  // A changed circuit has not been rehearsed.
  ui.click("Safety station: must be passed outright", draw);
  composing.wait();
  ui.frame(draw);
  CHECK(ui.probe().shows("Of the circuit before it was changed."));
  ui.click("Undo", draw);
  ui.frame(draw);
  CHECK_FALSE(ui.probe().shows("Of the circuit before it was changed."));
}
