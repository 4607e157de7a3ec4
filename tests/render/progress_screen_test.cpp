// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Progress on the screen: what it says follows from the history, and all of it fits.
#include <catch2/catch.hpp>

#include <string>
#include <vector>

#include "render/app/progress_keeper.hpp"
#include "render/screens/progress/progress.hpp"
#include "sim/basics/random.hpp"
#include "sim/scoring/rubric.hpp"
#include "tests/render/headless_ui.hpp"
#include "tests/support/temporary_folder.hpp"

using namespace redress;
using namespace redress::screens;
using redress::test::HeadlessUi;

namespace {

constexpr std::int64_t kDay = 86'400;
constexpr std::int64_t kNow = 1'795'000'000;  // in November 2026

const std::vector<WindowSize> kFour{
    {1920, 1080, 1}, {1440, 900, 1}, {1280, 720, 1}, {1280, 720, 2}};

/// Months of drills and examinations, small sizes said too large and large ones too small.
progress::History make_history() {
  progress::History history;
  for (int month = 0; month < 6; ++month) {
    progress::DrillEntry drill;
    drill.at_s = kNow - (6 - month) * 30 * kDay;
    drill.magnification = 2.4;
    const double pd = 4.0 - 0.4 * month;
    drill.threshold = {pd, 0.75 * pd, 1.4 * pd};
    for (std::uint64_t i = 0; i < 14; ++i) {
      const double size =
          1 + 18 * random_uniform(9, Stream::person, 100 * i + drill.answers.size());
      const drill::Pair shown{size, drill::Way::in, false};
      drill.answers.push_back({shown, {false, drill::Way::in, 1.5 + 0.8 * size}});
    }
    history.drills.push_back(drill);
  }
  for (int i = 0; i < 14; ++i) {
    progress::ExaminationEntry done;
    done.at_s = kNow - i * kDay;
    for (const scoring::RubricLine& line : scoring::kRubric) {
      const std::string item = line.name;
      const bool missed = item == "B2" && i % 2 == 0;
      if (item == "G3" && i > 4) continue;  // a few chances
      done.marks.push_back({item, missed ? 0.0 : 4.0, 4.0});
    }
    history.examinations.push_back(done);
  }
  return history;
}

ProgressModel make_model(const progress::History& history) {
  ProgressModel model = make_progress(history, kNow);
  model.user = "Maximiliana Featherstonehaugh";
  model.role = "assessor";
  return model;
}

}  // namespace

TEST_CASE("progress: what is said follows from the history") {
  const ProgressModel model = make_model(make_history());
  CHECK(model.threshold_head == "Your smallest visible movement: 2Δ");
  CHECK(model.threshold_under.find("2.4× life size") != std::string::npos);
  REQUIRE(model.agreement);
  CHECK(model.sizes_head == "You say small ones too large, large ones too small");
  CHECK(model.sizes_under.find("2Δ is called 3.1Δ; 15Δ is called 13.5Δ. 84 answers.") == 0);
  CHECK(model.advice.find("letter line") != std::string::npos);
  CHECK(model.months.size() >= 6);
  HeadlessUi ui(kFour[1]);
  ProgressModel shown = model;
  ui.settle([&](Ui& u) { draw_progress(u, make_study_layout(kFour[1]), shown); });
  CHECK(ui.probe().shows("firm"));
  CHECK(ui.probe().shows("not yet"));
  CHECK(ui.probe().shows("few chances"));
  CHECK(ui.probe().shows("50 %"));  // seven of fourteen
}

TEST_CASE("progress: nothing done yet is said, and nothing is made up") {
  ProgressModel model = make_model({});
  CHECK_FALSE(model.agreement);
  CHECK(model.threshold_under == "No drill yet: 40 pairs take four minutes.");
  HeadlessUi ui(kFour[1]);
  ProgressOutcome outcome;
  const auto draw = [&](Ui& u) {
    const ProgressOutcome now = draw_progress(u, make_study_layout(kFour[1]), model);
    outcome.train = outcome.train || now.train;
    if (now.tab) outcome.tab = now.tab;
  };
  ui.settle(draw);
  CHECK_FALSE(ui.probe().shows("not yet"));
  ui.click("progress/Train the eye", draw);
  CHECK(outcome.train);
  ui.click("Cases", draw);
  CHECK(outcome.tab == StudyTab::cases);
}

TEST_CASE("progress fits everywhere, as plots and as numbers, with trouble and without") {
  for (const WindowSize& window : kFour) {
    for (const Theme theme : {Theme::light, Theme::dim}) {
      for (int which = 0; which < 12; ++which) {
        ProgressModel model = make_model(which % 4 == 3 ? progress::History{} : make_history());
        model.part = static_cast<ProgressPart>(which % 3);
        model.numbers = which >= 6;
        if (which % 4 == 2) {
          model.trouble =
              "Your progress, “/home/somebody/.local/share/redress/progress.sqlite”: it was "
              "written "
              "by a newer version (3; this one reads 1). It was left untouched. What you do now is "
              "kept until you leave, no longer.";
        }
        HeadlessUi ui(window, theme);
        ui.settle([&](Ui& u) { draw_progress(u, make_study_layout(window), model); });
        INFO(window.width_px << " x " << window.height_px << " at " << window.scale << ", " << which
                             << "\n"
                             << ui.misfits());
        CHECK(ui.misfits().empty());
      }
    }
  }
}

TEST_CASE("progress: what the disk does not take is kept, and a refused file is told of") {
  const tests::TemporaryFolder folder;
  {
    app::ProgressKeeper keeper(folder.path());
    CHECK(keeper.trouble().empty());
    progress::ExaminationEntry done;
    done.learner = "Ida";
    done.case_key = "exophoria";
    done.marks = {{"B2", 6, 6}};
    CHECK_FALSE(keeper.was_shown("Ida", "exophoria"));
    keeper.enter(done);
    CHECK(keeper.was_shown("Ida", "exophoria"));
    CHECK(keeper.read("Ida").examinations.size() == 1);
    CHECK(keeper.read("Ida").examinations[0].at_s > 1'700'000'000);
  }
  const std::string path = folder.path() + "/progress.sqlite";
  CHECK(app::ProgressKeeper(folder.path()).read("Ida").examinations.size() == 1);
  std::filesystem::resize_file(path, 100);
  app::ProgressKeeper keeper(folder.path());
  CHECK(keeper.trouble().find("left untouched") != std::string::npos);
  progress::DrillEntry drill;
  drill.learner = "Ida";
  keeper.enter(drill);
  CHECK(keeper.read("Ida").drills.size() == 1);
  CHECK(std::filesystem::file_size(path) == 100);
}
