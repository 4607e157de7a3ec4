// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// A circuit is composed in the window: tried by the engine as it stands, rehearsed with simulated
// candidates, changed, saved and sealed.
#include <catch2/catch.hpp>

#include <filesystem>
#include <fstream>
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
