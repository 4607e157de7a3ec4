// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// First run, calibration and the list of cases at the four sizes, in both themes: everything fits,
// nothing lies on anything else, and what is clicked is what is answered.
#include <catch2/catch.hpp>

#include <string>
#include <vector>

#include "render/screens/cases/cases.hpp"
#include "render/screens/first_run/first_run.hpp"
#include "tests/render/headless_ui.hpp"

using namespace redress;
using namespace redress::screens;
using redress::test::find_collisions;
using redress::test::HeadlessUi;

namespace {

const std::vector<WindowSize> kFour{
    {1920, 1080, 1}, {1440, 900, 1}, {1280, 720, 1}, {1280, 720, 2}};

CasesModel make_model() {
  CasesModel model;
  const std::vector<std::pair<std::string, std::string>> people{
      {"Tamsin Oakley", "Routine check before a driving test"},
      {"Idris Penhale", "New spectacles wanted for reading"},
      {"Bram Kessell", "An eye that turns in on photographs"},
      {"Marisol Anand", "Blurred reading towards evening"},
      {"Noor Vasterling", "Shuts one eye in the sun"},
      {"Edda Rosewarne", "Failed the school test with one eye"}};
  for (const auto& [name, complaint] : people) {
    CaseRow row;
    row.name = name;
    row.complaint = complaint;
    row.age_years = 22.9;
    row.goal = "Let the story choose the distance";
    row.level = 3;
    row.step = static_cast<int>(model.rows.size()) + 1;
    model.rows.push_back(row);
  }
  model.rows[0].times_done = 12;
  model.rows[0].best = 100;
  model.rows[0].last = "30 Sep 2025";
  model.rows[1].times_done = 1;
  model.rows[1].best = 54;
  model.rows[1].last = "yesterday";
  model.user = "Maximiliana Featherstonehaugh";
  model.role = "assessor";
  model.calibration = "Size on this screen not known";
  return model;
}

/// No two things to click on top of each other, all inside the window.
std::string find_clashes(const UiProbe& probe, const WindowSize& window) {
  std::string found;
  const Rect whole{0, 0, window.width(), window.height()};
  const auto& parts = probe.parts();
  for (std::size_t i = 0; i < parts.size(); ++i) {
    const Rect seen = calc_overlap(parts[i].rect, whole);
    if (seen.empty()) continue;
    for (std::size_t k = i + 1; k < parts.size(); ++k) {
      if (seen.overlaps(parts[k].rect)) {
        found += parts[i].id + " and " + parts[k].id + "\n";
      }
    }
  }
  return found;
}

template <class Draw>
void check_everywhere(const Draw& draw_at) {
  for (const WindowSize& window : kFour) {
    for (const Theme theme : {Theme::light, Theme::dim}) {
      HeadlessUi ui(window, theme);
      ui.settle([&](Ui& u) { draw_at(u, window); });
      INFO(window.width_px << " x " << window.height_px << " at " << window.scale << "\n"
                           << ui.misfits() << find_collisions(ui.probe())
                           << find_clashes(ui.probe(), window));
      CHECK(ui.misfits().empty());
      CHECK(find_collisions(ui.probe()).empty());
      CHECK(find_clashes(ui.probe(), window).empty());
      for (const ProbedPart& part : ui.probe().parts()) {
        INFO(part.id);
        CHECK(part.rect.h >= 26);
      }
    }
  }
}

}  // namespace

TEST_CASE("first run fits everywhere") {
  FirstRunModel model;
  model.name = "Maximiliana Featherstonehaugh";
  check_everywhere([&](Ui& ui, const WindowSize& window) {
    draw_first_run(ui, make_first_run_layout(window), model);
  });
}

TEST_CASE("calibration fits everywhere") {
  CalibrateModel model;
  check_everywhere([&](Ui& ui, const WindowSize& window) {
    draw_calibrate(ui, make_study_layout(window), model);
  });
}

TEST_CASE("the list of cases fits everywhere") {
  CasesModel model = make_model();
  check_everywhere(
      [&](Ui& ui, const WindowSize& window) { draw_cases(ui, make_study_layout(window), model); });
}

TEST_CASE("first run keeps what was chosen and typed") {
  HeadlessUi ui(kFour[1]);
  FirstRunModel model;
  FirstRunOutcome last;
  const auto draw = [&](Ui& u) {
    const FirstRunOutcome now = draw_first_run(u, make_first_run_layout(kFour[1]), model);
    last.next = last.next || now.next;
    last.text_size_changed = last.text_size_changed || now.text_size_changed;
  };
  ui.click("I teach", draw);
  CHECK(model.role == 1);
  ui.click("Left", draw);
  CHECK(model.hand == 1);
  ui.click("US: X, ET", draw);
  CHECK(model.shorthand == 1);
  ui.click("Light", draw);
  CHECK(model.room == 1);
  ui.click("name", draw);
  ui.type("Wanda Ilves", draw);
  CHECK(model.name == "Wanda Ilves");
  CHECK_FALSE(last.text_size_changed);
  ui.click("150 %", draw);
  CHECK(model.text_size == 2);
  CHECK(last.text_size_changed);
  CHECK_FALSE(last.next);
  ui.click("Next", draw);
  CHECK(last.next);
}

TEST_CASE("calibration: the corner, the buttons and the arrows change the size") {
  HeadlessUi ui(kFour[1]);
  CalibrateModel model;
  CalibrateOutcome last;
  const auto draw = [&](Ui& u) { last = draw_calibrate(u, make_study_layout(kFour[1]), model); };
  ui.settle(draw);
  const double before = model.pixels_per_mm;
  ui.click("wider", draw);
  CHECK(model.pixels_per_mm == Approx(before * 85.70 / 85.60));
  ui.click("narrower", draw);
  CHECK(model.pixels_per_mm < before * 1.0001);
  const auto corner = ui.probe().find_centre("corner");
  REQUIRE(corner);
  ui.move(*corner);
  ui.settle(draw);
  ui.button(*corner, true);
  ui.settle(draw);
  const Point there{corner->x + 40, corner->y};
  ui.move(there);
  ui.settle(draw);
  ui.button(there, false);
  ui.settle(draw);
  // The outline grows to both sides of its middle: 80 units for 40.
  CHECK(model.pixels_per_mm * kCardWidthMm == Approx(before * kCardWidthMm + 80).margin(3));
}

TEST_CASE("what the readout says follows from the card: 2.4 times life, 0.29 mm") {
  // screens.md, section 2: 8.5 px/mm on a screen of 3.5 px/mm.
  const ShownSize size = calc_shown_size(8.5, 3.5);
  CHECK(size.magnification == Approx(2.43).margin(0.01));
  CHECK(size.prism_dioptre_mm == Approx(0.29).margin(0.005));
}

TEST_CASE("cases: a click chooses, another begins, Begin begins the one that comes next") {
  HeadlessUi ui(kFour[1]);
  CasesModel model = make_model();
  std::optional<std::size_t> begun;
  const auto draw = [&](Ui& u) {
    const CasesOutcome outcome = draw_cases(u, make_study_layout(kFour[1]), model);
    if (outcome.choose) model.chosen = outcome.choose;
    if (outcome.filter) model.filter = *outcome.filter;
    if (outcome.begin) begun = outcome.begin;
  };
  ui.settle(draw);
  ui.click("Begin", draw);
  CHECK(begun == 2U);  // the first that was not done
  begun.reset();
  ui.click("Edda Rosewarne, 22", draw);
  CHECK(model.chosen == 5U);
  CHECK_FALSE(begun.has_value());
  ui.click("Edda Rosewarne, 22", draw);
  CHECK(begun == 5U);
}

TEST_CASE("cases: the way of practising is chosen here, and the example with it") {
  HeadlessUi ui(kFour[1]);
  CasesModel model = make_model();
  std::optional<std::size_t> shown;
  std::optional<StudyTab> tab;
  const auto draw = [&](Ui& u) {
    const CasesOutcome outcome = draw_cases(u, make_study_layout(kFour[1]), model);
    if (outcome.mode) model.mode = *outcome.mode;
    if (outcome.show_me) shown = outcome.show_me;
    if (outcome.tab) tab = outcome.tab;
  };
  ui.click("Show me", draw);
  CHECK(shown == 2U);
  shown.reset();
  ui.click("Exam-like", draw);
  CHECK(model.mode == kExamLikeMode);
  // Not before one's own record is handed in.
  ui.click("Show me", draw);
  CHECK_FALSE(shown.has_value());
  model.chosen = 1;  // done once
  ui.click("Show me", draw);
  CHECK(shown == 1U);
  ui.click("Progress", draw);
  CHECK(tab == StudyTab::progress);
  ui.click("Train the eye", draw);
  CHECK(tab == StudyTab::train);
}

TEST_CASE("cases: search and filters") {
  CasesModel model = make_model();
  CHECK(find_shown(model).size() == 6);
  model.search = "SUN";
  CHECK(find_shown(model) == std::vector<std::size_t>{4});
  model.search = "nobody of that name";
  CHECK(find_shown(model).empty());
  model.search.clear();
  model.filter = 1;
  CHECK(find_shown(model).size() == 4);
  model.filter = 2;
  CHECK(find_shown(model) == std::vector<std::size_t>{1});
  HeadlessUi ui(kFour[1]);
  model.filter = 0;
  model.search = "xyz";
  ui.settle([&](Ui& u) { draw_cases(u, make_study_layout(kFour[1]), model); });
  CHECK(ui.probe().shows("No cases match “xyz”"));
}

TEST_CASE("cases: words in any order, level and goal, what is chosen again is let go") {
  CasesModel model = make_model();
  model.search = "reading spectacles";
  CHECK(find_shown(model) == std::vector<std::size_t>{1});
  model.search = "reading edda";
  CHECK(find_shown(model).empty());
  model.search.clear();
  model.rows[2].level = 5;
  model.level = 5;
  CHECK(find_shown(model) == std::vector<std::size_t>{2});
  model.step = 4;
  CHECK(find_shown(model).empty());
  model.level = 0;
  CHECK(find_shown(model) == std::vector<std::size_t>{3});
  model.step = 0;
  const CaseCounts counts = count_cases(model);
  CHECK(counts.filters == std::array<std::size_t, 4>{6, 4, 1, 0});
  CHECK(counts.levels[3] == 5);
  CHECK(counts.levels[5] == 1);
  CHECK(counts.steps[4] == 1);

  HeadlessUi ui(kFour[0]);
  const auto draw = [&](Ui& u) {
    const CasesOutcome outcome = draw_cases(u, make_study_layout(kFour[0]), model);
    if (outcome.level) model.level = *outcome.level;
    if (outcome.step) model.step = *outcome.step;
  };
  ui.click("cases/level 5", draw);
  CHECK(model.level == 5);
  ui.click("cases/level 5", draw);
  CHECK(model.level == 0);
  ui.click("cases/goal 4", draw);
  CHECK(model.step == 4);
  ui.click("cases/goal 4", draw);
  CHECK(model.step == 0);
}

TEST_CASE("cases: of ten thousand only those that are to be seen are drawn, and Tab goes on") {
  CasesModel model = make_model();
  const CaseRow one = model.rows[3];
  while (model.rows.size() < 10'000) model.rows.push_back(one);
  std::size_t pictures = 0;
  model.find_picture = [&](const CaseRow&) {
    ++pictures;
    return std::uintptr_t{0};
  };
  HeadlessUi ui(kFour[1]);
  const auto draw = [&](Ui& u) {
    pictures = 0;
    draw_cases(u, make_study_layout(kFour[1]), model);
  };
  ui.settle(draw);
  CHECK(pictures >= 5);
  CHECK(pictures <= 15);
  CHECK(ui.probe().parts().size() < 80);
  CHECK(ui.misfits().empty());
  // By keys alone, beyond what was to be seen at first.
  const auto in_rows = [&](std::size_t row) {
    return ui.ui().focused() == "cases/case " + std::to_string(row);
  };
  for (int i = 0; i < 120 && !in_rows(40); ++i) ui.press(window::Key::tab, draw);
  CHECK(in_rows(40));
  CHECK(ui.probe().find("case 40") != nullptr);
}

TEST_CASE(
    "the path: a step is done when all its cases are done well, and the first other is here") {
  CasesModel model = make_model();
  model.rows[1].step = 1;
  auto path = find_path(model);
  CHECK(path[0].cases == 2);
  CHECK(path[0].firm == 1);
  CHECK(path[1].cases == 0);
  CHECK(find_here(path) == std::size_t{0});
  model.rows[1].best = 75;
  path = find_path(model);
  CHECK(path[0].firm == 2);
  // The second step has no case and stands in nobody's way.
  CHECK(find_here(path) == std::size_t{2});
  for (CaseRow& row : model.rows) {
    row.times_done = 1;
    row.best = 90;
  }
  CHECK_FALSE(find_here(find_path(model)));
}

TEST_CASE("a click on a step chooses its patient, who then begins") {
  CasesModel model = make_model();
  HeadlessUi ui(kFour[1]);
  std::optional<std::size_t> chosen;
  ui.click("Which way", [&](Ui& u) {
    const CasesOutcome outcome = draw_cases(u, make_study_layout(kFour[1]), model);
    if (outcome.choose) chosen = outcome.choose;
  });
  CHECK(chosen == std::size_t{2});
}

TEST_CASE("a line never breaks inside a number, nor between a number and its unit") {
  HeadlessUi ui(kFour[1]);
  const Ui& u = ui.ui();
  const std::string text = "Size at 33 cm: 4.1Δ too small; 12.5Δ is allowed, after 6 m and 1.2 s.";
  for (float width = 60; width < 400; width += 3) {
    std::string joined;
    for (const std::string& line : u.wrap(width, TextStyle::body, text)) {
      INFO("width " << width << ": " << line);
      for (const std::string_view broken : {"33", "6", "1.2", "12", "4", "12.", "4.", "1."}) {
        CHECK_FALSE((line == broken || line.ends_with(" " + std::string(broken))));
      }
      joined += (joined.empty() ? "" : " ") + line;
    }
    CHECK(joined == text);
  }
}
