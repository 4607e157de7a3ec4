// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The pages behind the door "Assessment" at the four sizes, in both themes: everything fits,
// nothing lies on anything else, and what is clicked is what is answered. The strip of a station
// never loses its clock.
#include <catch2/catch.hpp>

#include <string>
#include <vector>

#include "render/screens/assessment/compose_page.hpp"
#include "render/screens/assessment/invigilator_page.hpp"
#include "render/screens/assessment/results_pages.hpp"
#include "render/screens/debrief/debrief_screen.hpp"
#include "sim/assessment/circuit_file.hpp"
#include "sim/basics/file.hpp"
#include "tests/render/headless_ui.hpp"
#include "tests/support/places.hpp"

using namespace redress;
using namespace redress::screens;
using namespace redress::screens::assessment;
using redress::test::find_collisions;
using redress::test::HeadlessUi;

namespace {

const std::vector<WindowSize> kFour{
    {1920, 1080, 1}, {1440, 900, 1}, {1280, 720, 1}, {1280, 720, 2}};

/// No two things to click on each other, none beside the window.
std::string find_clashes(const UiProbe& probe, const WindowSize& window) {
  std::string found;
  const Rect whole{0, 0, window.width(), window.height()};
  const auto& parts = probe.parts();
  for (std::size_t i = 0; i < parts.size(); ++i) {
    const Rect seen = calc_overlap(parts[i].rect, whole);
    if (!parts[i].rect.empty() && (parts[i].rect.x < 0 || parts[i].rect.right() > whole.w + 0.5F)) {
      found += parts[i].id + " is cut off\n";
    }
    if (seen.empty()) continue;
    for (std::size_t k = i + 1; k < parts.size(); ++k) {
      if (seen.overlaps(parts[k].rect)) found += parts[i].id + " and " + parts[k].id + "\n";
    }
  }
  return found;
}

template <class Draw>
void check_everywhere(const Draw& draw) {
  for (const Theme theme : {Theme::light, Theme::dim}) {
    for (const WindowSize& size : kFour) {
      HeadlessUi ui(size, theme);
      const auto page = [&](Ui& u) { draw(u, make_study_layout(size)); };
      for (int i = 0; i < 3; ++i) ui.frame(page);  // heights are those of the frame before
      INFO(size.width_px << " x " << size.height_px << " at " << size.scale);
      CHECK(ui.misfits() == "");
      CHECK(find_collisions(ui.probe()) == "");
      CHECK(find_clashes(ui.probe(), size) == "");
    }
  }
}

DeskBar full_bar() {
  DeskBar bar;
  bar.where = "Station 10 of 12";
  bar.candidate = "Candidate 0417";
  bar.clock_words = "reading, left";
  bar.clock = "12:48";
  bar.invigilator = true;
  return bar;
}

ComposeModel example() {
  ComposeModel model;
  const auto text = read_file(support::source_dir() + "/scenarios/circuits/second_year.json");
  model.circuit = redress::assessment::read_circuit_text(text.value()).value();
  model.path = "/home/somebody/.local/share/redress/circuits/second_year.json";
  model.figures.assign(model.circuit.stations.size(), {false, 98.2, 212'000, 0.71});
  model.figures[1] = {true, std::nullopt, std::nullopt, std::nullopt};
  model.figures[4].reference_ms = 530'000;
  model.remarks = {
      {"Station 5: The reference examiner needs 8:50 of 9:00.", "", "Give 10:00", true},
      {"Station 6: The case says nothing of how soon somebody must act.",
       "Give the case its expected urgency.", "", false}};
  model.blueprint = {{redress::assessment::Procedure::prism_cover,
                      "decompensated convergence insufficiency",
                      Urgency::routine,
                      {0, 1, 3, 4}}};
  model.found = {"/usr/share/redress/scenarios/circuits/second_year.json"};
  model.can_undo = true;
  redress::assessment::CohortFigures figures;
  figures.candidates = 200;
  figures.passed = 143;
  figures.passed_interval = {0.648, 0.775};
  figures.cut = {52.4, 1.3};
  figures.generalisability = 0.71;
  figures.alpha = 0.7;
  figures.stations_for_080 = 10;
  for (std::size_t i = 0; i < 6; ++i) {
    redress::assessment::StationFigures station;
    station.station = i;
    station.name = "Decompensated in the evening, one of two";
    station.discrimination = -0.12;
    station.look_at = "does it tell the able from the others";
    figures.stations.push_back(station);
  }
  model.rehearsal.figures = figures;
  model.rehearsal.ready = true;
  model.rehearsal.outdated = true;
  model.chosen = 4;
  return model;
}

}  // namespace

TEST_CASE("assessment pages: the desk's pages fit at the four sizes in both themes") {
  PassphraseModel wrong;
  wrong.trouble = "That does not open it. Next try in 60 s.";
  check_everywhere([&](Ui& ui, const StudyLayout& layout) {
    static OpeningModel model;
    model.found = {"/home/somebody/.local/share/redress/circuits/second_year.sealed"};
    model.passphrase = wrong;
    DeskBar bar;
    bar.leaves = true;
    bar.tab = AssessmentTab::sit;
    (void)draw_desk_bar(ui, layout, bar);
    (void)draw_opening(ui, layout, model);
  });
  check_everywhere([](Ui& ui, const StudyLayout& layout) {
    static SetupModel model;
    model.circuit = "Second-year binocular vision";
    model.stations = "6 stations with a patient, 1 rests, 58:00 in all. Circuit 5c1e 90af 22d7.";
    model.workstation = "desk 3";
    model.folder = "/home/somebody/.local/share/redress/stations";
    model.size_on_screen = "Size on this screen not known";
    model.interrupted = {{"0417", 3, "2:41", "desk 7"}};
    (void)draw_desk_bar(ui, layout, {});
    (void)draw_setup(ui, layout, model);
  });
  check_everywhere([](Ui& ui, const StudyLayout& layout) {
    static CandidateModel model;
    model.magnification = "The eyes are 2.0 times life size on this screen.";
    model.trouble = "This candidate was interrupted. Call the invigilator.";
    (void)draw_desk_bar(ui, layout, {});
    (void)draw_candidate(ui, layout, model);
  });
  check_everywhere([](Ui& ui, const StudyLayout& layout) {
    static ReadingModel model;
    model.name = "Maximiliana Featherstonehaugh";
    model.age = "41";
    model.story = std::string(
        "My eyes feel tired when I read in the evening, and twice last month the print ran "
        "together. It goes when I shut one eye. My sister says that I hold my head to one side.");
    model.tasks = {"Find and record any deviation at 6 m and at 33 cm, with his own correction.",
                   "Measure what you find with prism.",
                   "Record an impression, a plan and how soon."};
    (void)draw_desk_bar(ui, layout, full_bar());
    draw_station_reading(ui, layout, model);
  });
  check_everywhere([](Ui& ui, const StudyLayout& layout) {
    static AfterModel model;
    model.title = "Time is up. Your card was handed in as it stands.";
    (void)draw_desk_bar(ui, layout, full_bar());
    (void)draw_after(ui, layout, model);
  });
  check_everywhere([](Ui& ui, const StudyLayout& layout) {
    static InvigilatorModel model;
    model.known = true;
    model.at_station = true;
    model.told = "60 s given.";
    model.asks_to_abort = true;
    model.moving = "Close this window: what was done is kept.";
    (void)draw_desk_bar(ui, layout, full_bar());
    (void)draw_invigilator(ui, layout, model);
  });
}

TEST_CASE("assessment pages: composing and results fit at the four sizes in both themes") {
  check_everywhere([](Ui& ui, const StudyLayout& layout) {
    static ComposeModel model = example();
    DeskBar bar;
    bar.leaves = true;
    bar.tab = AssessmentTab::compose;
    (void)draw_desk_bar(ui, layout, bar);
    (void)draw_compose(ui, layout, model);
  });
  check_everywhere([](Ui& ui, const StudyLayout& layout) {
    static ResultsModel model;
    model.columns = {"1", "2", "4", "5", "6", "7"};
    model.rows.assign(3, {"0417", std::vector<ResultCell>(6)});
    model.rows[1].cells[2] = {true, true, "", true, 62.5, true, 1};
    model.rows[2].cells[0] = {true, false, "Borderline", false, 0, false, 0};
    model.rows[2].cells[1] = {true, true, "", false, 0, false, 0};
    model.all_seen = true;
    (void)draw_results(ui, layout, model, true);
  });
  check_everywhere([](Ui& ui, const StudyLayout& layout) {
    static StationMarksModel model;
    model.title = "Candidate 0417, station 4";
    model.events =
        "At the desk: 1:20 left window  ·  1:29 came back  ·  2:00 60 s given: fire bell";
    model.seen = true;
    model.total = 62.5;
    model.engine_total = 58;
    model.items = {{"D3", "Size of the deviation", 9, 4.5, 9, {"A. Perera: read at 33 cm"}},
                   {"G1", "Impression", 5, 5, 5, {}}};
    model.overruling = 0;
    (void)draw_station_marks(ui, layout, model);
  });
}

TEST_CASE("assessment pages: a remedy is a button, and editing a station changes the circuit") {
  const WindowSize size{1440, 900, 1};
  HeadlessUi ui(size);
  ComposeModel model = example();
  ComposeOutcome last;
  const auto draw = [&](Ui& u) {
    const ComposeOutcome now = draw_compose(u, make_study_layout(size), model);
    if (now.changed) {
      model.circuit = *now.changed;
      last.changed = now.changed;
    }
    if (now.choose) model.chosen = *now.choose;
    if (now.remedy) last.remedy = now.remedy;
  };
  ui.click("Give 10:00", draw);
  REQUIRE(last.remedy.has_value());
  CHECK(*last.remedy == 0);
  ui.click("stations/station5", draw);
  CHECK(model.chosen == 5);
  ui.click("Safety station: must be passed outright", draw);
  REQUIRE(last.changed.has_value());
  CHECK(last.changed->stations[5].safety);
  CHECK_FALSE(example().circuit.stations[5].safety);
  const std::size_t before = model.circuit.stations.size();
  ui.click("Rest", draw);  // the first part so called is the row of the example's rest
  CHECK(model.chosen == 2);
  ui.click("stations/Rest", draw);
  CHECK(model.circuit.stations.size() == before + 1);
  CHECK(model.circuit.stations[3].rest);
}

TEST_CASE("assessment pages: a passphrase is typed behind dots and asked for once it is there") {
  const WindowSize size{1440, 900, 1};
  HeadlessUi ui(size);
  OpeningModel model;
  model.path = "day.sealed";
  bool open = false;
  const auto draw = [&](Ui& u) {
    open = draw_opening(u, make_study_layout(size), model).open || open;
  };
  ui.click("Open", draw);
  CHECK_FALSE(open);
  ui.click("passphrase", draw);
  ui.type("larch under the gate", draw);
  CHECK(model.passphrase.typed == "larch under the gate");
  CHECK_FALSE(ui.probe().shows("larch"));
  ui.click("Open", draw);
  CHECK(open);
}

TEST_CASE("assessment pages: the marks of a station are hidden until it is rated") {
  const WindowSize size{1280, 720, 1};
  HeadlessUi ui(size);
  StationMarksModel model;
  model.title = "Candidate 0417, station 4";
  model.total = 62.5;
  model.items = {{"D3", "Size of the deviation", 9, 4.5, 4.5, {}}};
  StationMarksOutcome last;
  const auto draw = [&](Ui& u) {
    const StationMarksOutcome now = draw_station_marks(u, make_study_layout(size), model);
    if (now.rate) last.rate = now.rate;
  };
  ui.frame(draw);
  CHECK_FALSE(ui.probe().shows("62.5"));
  CHECK_FALSE(ui.probe().shows("4.5"));
  ui.click("Borderline", draw);
  CHECK(last.rate == 1);
  model.seen = true;
  ui.frame(draw);
  CHECK(ui.probe().shows("62.5"));
  CHECK(ui.probe().shows("would not be blind"));
}
