// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The debrief on the screen: playing moves time at its speed, a click on a time moves everything
// together, all text fits at the four sizes, in every tab.
#include "render/screens/debrief/debrief_screen.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <fstream>
#include <sstream>

#include "sim/cases/case_file.hpp"
#include "sim/cases/setup.hpp"
#include "sim/examiners/examine.hpp"
#include "sim/record/file_sink.hpp"
#include "sim/record/run.hpp"
#include "tests/render/headless_ui.hpp"
#include "tests/support/places.hpp"

using namespace redress;
using namespace redress::screens;
using namespace redress::screens::debrief;

namespace {

const WindowSize kSizes[] = {{1920, 1080, 1}, {1440, 900, 1}, {1280, 720, 1}, {1280, 720, 2}};

constexpr auto kShort = examiners::Fault::short_covers;

std::string record_of(const char* scenario, examiners::Fault fault) {
  std::ifstream in(support::source_dir() + "/scenarios/" + scenario, std::ios::binary);
  std::ostringstream text;
  text << in.rdbuf();
  const Case the_case = read_case_text(text.str()).value();
  const ExaminationSetup setup = setup_of(the_case);
  const Chance chance{the_case.seed, 1.0, true};
  examiners::Habits habits;
  habits.fault = fault;
  habits.near_m = the_case.patient.near_working_distance.value;
  habits.owns_spectacles = the_case.spectacles.owned();
  Examination exam(setup, chance);
  const examiners::Examined examined = examiners::examine(exam, habits);
  std::ostringstream out;
  record::RecordWriter writer(out, record::make_header(to_json(the_case), chance.seed, 1.0));
  record::FileSink sink;
  sink.record = &writer;
  record::RunOptions options;
  options.chance = chance;
  options.until_ms = examined.until;
  record::run(setup, examined.acts, options, sink);
  return out.str();
}

DebriefModel make_model(const char* scenario, examiners::Fault fault) {
  return make_debrief(record_of(scenario, fault)).value();
}

const DebriefModel& faulty() {
  static const DebriefModel model =
      make_model("intermittent_exotropia.json", examiners::Fault::no_near_test);
  return model;
}

}  // namespace

TEST_CASE("debrief: time passes at the speed chosen and stops at the end", "[screens][debrief]") {
  const DebriefModel& model = faulty();
  DebriefState state = make_state(model);
  show(model, 50000, state);
  CHECK_FALSE(state.playing);
  advance(model, 1.0, state);
  CHECK(state.now_ms == 50000.0);
  apply(model, Command::play, state);
  for (std::size_t i = 0; i < kSpeeds.size(); ++i) {
    state.speed = i;
    const double before = state.now_ms;
    advance(model, 0.5, state);
    CHECK(state.now_ms - before == Approx(500 * kSpeeds[i]));
    CHECK(state.now_ms >= state.from_ms);
    CHECK(state.now_ms <= state.to_ms);
  }
  advance(model, 1e6, state);
  CHECK(state.now_ms == static_cast<double>(model.playback.end_ms()));
  CHECK_FALSE(state.playing);
}

TEST_CASE("debrief: ten milliseconds and from movement to movement", "[screens][debrief]") {
  const DebriefModel& model = faulty();
  DebriefState state = make_state(model);
  show(model, 0, state);
  apply(model, Command::on_10_ms, state);
  CHECK(state.now_ms == 10.0);
  apply(model, Command::back_10_ms, state);
  apply(model, Command::back_10_ms, state);
  CHECK(state.now_ms == 0.0);
  double before = -1;
  std::size_t seen = 0;
  for (std::size_t i = 0; i < model.movements.size(); ++i) {
    apply(model, Command::movement_after, state);
    if (state.now_ms <= before) break;
    before = state.now_ms;
    CHECK(find_chosen(model, state.now_ms).has_value());
    ++seen;
  }
  CHECK(seen >= model.movements.size() / 2);  // two that begin together are one stop
  apply(model, Command::movement_before, state);
  CHECK(state.now_ms < before);
}

TEST_CASE("debrief: zoom keeps the time under the pointer, pan stays inside",
          "[screens][debrief]") {
  const DebriefModel& model = faulty();
  DebriefState state = make_state(model);
  show(model, 60000, state);
  const double about = state.from_ms + 0.25 * (state.to_ms - state.from_ms);
  zoom(model, about, 0.5, state);
  CHECK((about - state.from_ms) / (state.to_ms - state.from_ms) == Approx(0.25));
  for (int i = 0; i < 60; ++i) zoom(model, about, 0.5, state);
  CHECK(state.to_ms - state.from_ms == Approx(kShortestWindowMs));
  pan(model, -1e9, state);
  CHECK(state.from_ms == 0.0);
  pan(model, 1e9, state);
  CHECK(state.to_ms == static_cast<double>(model.playback.end_ms()));
  apply(model, Command::whole, state);
  CHECK(state.from_ms == 0.0);
}

TEST_CASE("debrief: a click on an evidence time shows it", "[screens][debrief]") {
  const DebriefModel& model = faulty();
  DebriefState state = make_state(model);
  const WindowSize size{1440, 900, 1};
  test::HeadlessUi ui(size);
  DebriefOutcome outcome;
  const auto draw = [&](Ui& u) {
    const DebriefOutcome now = draw_debrief(u, make_debrief_layout(size), model, state);
    outcome.leave = outcome.leave || now.leave;
    outcome.again = outcome.again || now.again;
    outcome.picture = now.picture;
  };
  ui.frame(draw);
  std::size_t lost = 0;
  while (lost < model.lost.size() && model.lost[lost].at_ms.empty()) ++lost;
  REQUIRE(lost < model.lost.size());
  const double wanted = static_cast<double>(model.lost[lost].at_ms[0]);
  show(model, 0, state);
  ui.click("debrief side/lost " + std::to_string(lost) + " show", draw);
  CHECK(state.now_ms == wanted);
  CHECK(state.from_ms <= wanted);
  CHECK(state.to_ms >= wanted);
  CHECK_FALSE(outcome.picture.empty());

  ui.click("play", draw);
  CHECK(state.playing);
  ui.click("play", draw);
  CHECK_FALSE(state.playing);
  // A click in the lanes goes there.
  ui.click("lanes", draw);
  CHECK(state.now_ms == Approx((state.from_ms + state.to_ms) / 2).epsilon(0.02));
  ui.click("occluder", draw);
  CHECK_FALSE(state.clear_occluder);
  ui.click("Every mark", draw);
  CHECK(state.tab == Tab::every_mark);
  CHECK(outcome.picture.empty());
  ui.click("What happened", draw);
  ui.click("Again with this patient", draw);
  CHECK(outcome.again);
  CHECK_FALSE(outcome.leave);
  ui.click("Cases", draw);
  CHECK(outcome.leave);
}

TEST_CASE("debrief: all text fits in every tab at every size", "[screens][debrief][layout]") {
  const DebriefModel& model = faulty();
  for (const WindowSize& size : kSizes) {
    const DebriefLayout layout = make_debrief_layout(size);
    for (const Theme theme : {Theme::light, Theme::dim}) {
      for (int part = 0; part < 5; ++part) {
        for (const bool numbers : {false, true}) {
          DebriefState state = make_state(model);
          state.narrow_tab = static_cast<NarrowTab>(part);
          state.tab = part == 4 ? Tab::every_mark : Tab::what_happened;
          state.numbers = numbers;
          test::HeadlessUi ui(size, theme);
          const auto draw = [&](Ui& u) { draw_debrief(u, layout, model, state, "24 November"); };
          for (int i = 0; i < 3; ++i) ui.frame(draw);
          INFO(size.width_px << " x " << size.height_px << " at " << size.scale << ", part " << part
                             << ", numbers " << numbers);
          CHECK(ui.misfits() == "");
        }
      }
    }
  }
}

namespace {

/// The same hands and the same words on a patient of another deviation.
DebriefModel do_the_same_on(double distance_pd, double near_pd) {
  nlohmann::json written =
      nlohmann::json::parse(std::ifstream(support::scenario_path("exophoria")));
  const Case first = parse_case(written).value();
  Examination exam(setup_of(first), {7, 1.0, true});
  const examiners::Examined examined = examiners::examine(exam, {});
  written["deviation"]["distance_pd"] = distance_pd;
  written["deviation"]["near_pd"] = near_pd;
  const Case the_case = parse_case(written).value();
  std::ostringstream out;
  record::RecordWriter writer(out, record::make_header(written, 7, 1.0));
  record::FileSink sink;
  sink.record = &writer;
  record::RunOptions options;
  options.chance = {7, 1.0, true};
  options.until_ms = examined.until;
  record::run(setup_of(the_case), examined.acts, options, sink);
  return make_debrief(out.str()).value();
}

/// Every word of the page, in each of its parts.
std::vector<std::string> words_of(const DebriefModel& model, const WindowSize& size, bool blind) {
  std::vector<std::string> words;
  for (int part = 0; part < 3; ++part) {
    DebriefState state = make_state(model);
    state.for_assessor = true;
    state.blind = blind;
    state.clear_occluder = !blind;
    state.narrow_tab = static_cast<NarrowTab>(part);
    show(model, 0, state);
    for (const Command command : {Command::numbers, Command::occluder, Command::movement_after}) {
      apply(model, command, state);
      if (!blind) continue;
      CHECK_FALSE(state.numbers);
      CHECK_FALSE(state.clear_occluder);
    }
    words.push_back(write_time(state.now_ms, 2));
    test::HeadlessUi ui(size);
    const auto draw = [&](Ui& u) { draw_debrief(u, make_debrief_layout(size), model, state); };
    for (int i = 0; i < 3; ++i) ui.frame(draw);
    CHECK(ui.misfits() == "");
    for (const auto& text : ui.probe().texts()) words.push_back(text.text);
  }
  return words;
}

}  // namespace

TEST_CASE("debrief: before a rating the page is the same whatever the patient has",
          "[screens][debrief]") {
  const DebriefModel exophoria = do_the_same_on(-6, -9);
  const DebriefModel esophoria = do_the_same_on(9, 4);
  REQUIRE(exophoria.total != esophoria.total);  // the same words are right of one alone
  for (const WindowSize& size : kSizes) {
    INFO(size.width_px << " x " << size.height_px << " at " << size.scale);
    CHECK(words_of(exophoria, size, true) == words_of(esophoria, size, true));
    CHECK(words_of(exophoria, size, false) != words_of(esophoria, size, false));
  }
}

TEST_CASE("debrief: an example says that it is one, plays from its beginning, and fits") {
  const DebriefModel& model = faulty();
  for (const WindowSize& size : kSizes) {
    const DebriefLayout layout = make_debrief_layout(size);
    for (const bool above : {false, true}) {
      DebriefState state = make_example_state(model);
      CHECK(state.playing);
      CHECK(state.now_ms == 0);
      CHECK_FALSE(state.clear_occluder);
      state.above = above;
      state.narrow_tab = NarrowTab::next_time;
      test::HeadlessUi ui(size);
      DebriefOutcome outcome;
      const auto draw = [&](Ui& u) {
        const DebriefOutcome now = draw_debrief(u, layout, model, state);
        outcome.again = outcome.again || now.again;
        outcome.picture = now.picture;
      };
      for (int i = 0; i < 3; ++i) ui.frame(draw);
      INFO(size.width_px << " x " << size.height_px << " at " << size.scale);
      CHECK(ui.misfits() == "");
      CHECK(ui.probe().shows("Example"));
      CHECK_FALSE(ui.probe().find_centre("Show me").has_value());
      CHECK(outcome.picture == (above ? layout.sight : layout.picture));
      ui.click("Try it yourself", draw);
      CHECK(outcome.again);
    }
  }
}

TEST_CASE("debrief: the example is one button away, and the viewpoint goes round") {
  const DebriefModel& model = faulty();
  DebriefState state = make_state(model);
  const WindowSize size{1440, 900, 1};
  test::HeadlessUi ui(size);
  bool show_me = false;
  const auto draw = [&](Ui& u) {
    show_me = draw_debrief(u, make_debrief_layout(size), model, state).show_me || show_me;
  };
  ui.click("Show me", draw);
  CHECK(show_me);
  using examine::Closeness;
  for (const Closeness expected : {Closeness::one_eye, Closeness::close}) {
    ui.click("view", draw);
    CHECK(state.view == expected);
    CHECK_FALSE(state.above);
  }
  ui.click("view", draw);
  CHECK(state.above);
  ui.click("view", draw);
  CHECK_FALSE(state.above);
  CHECK(state.view == Closeness::both);
}

TEST_CASE("debrief: times are told as they pass", "[screens][debrief]") {
  CHECK(write_time(0, 2) == "0:00.00");
  CHECK(write_time(2600, 0) == "0:02");
  CHECK(write_time(266480, 2) == "4:26.48");
  CHECK(write_time(266489.9, 2) == "4:26.48");
  CHECK(write_time(59999.9, 2) == "0:59.99");
  CHECK(write_time(251500, 1) == "4:11.5");
}

TEST_CASE("what if: each habit has a price and two pictures of the same seconds",
          "[screens][debrief]") {
  const WhatIfModel what_if = make_what_if(record_of("exophoria.json", kShort)).value();
  REQUIRE_FALSE(what_if.habits.empty());
  const PricedHabit& dearest = what_if.habits.front();
  CHECK(dearest.marks > 0);
  CHECK(dearest.total == Approx(what_if.total + dearest.marks));
  INFO(dearest.headline << "; seen " << dearest.difference.seen_pd.value_or(99) << ", mended "
                        << dearest.difference.seen_mended_pd.value_or(99) << ", there "
                        << dearest.difference.there_pd << " at " << dearest.difference.place);
  CHECK(dearest.headline.starts_with("Your covers of"));
  CHECK(dearest.as_done.from_ms == dearest.mended.from_ms);
  REQUIRE_FALSE(dearest.as_done.covers.empty());
  REQUIRE_FALSE(dearest.mended.covers.empty());
  // The first cover is longer; what was before it is the same, value by value.
  const auto length = [](const Excerpt& e) { return e.covers[0].to_ms - e.covers[0].from_ms; };
  CHECK(length(dearest.mended) > length(dearest.as_done) + 500);
  CHECK(dearest.mended.covers[0].from_ms == dearest.as_done.covers[0].from_ms);
  const auto before = static_cast<std::size_t>(
      (dearest.as_done.covers[0].to_ms - dearest.as_done.from_ms) / kFrameMs - 75);
  for (std::size_t i = 0; i < before; ++i) {
    const bool same = dearest.as_done.values_pd[i] == dearest.mended.values_pd[i] ||
                      std::isnan(dearest.as_done.values_pd[i]);
    REQUIRE(same);
  }
}

TEST_CASE("what if: both are watched at the same time, each from its own playback") {
  const DebriefModel& model = faulty();
  const WhatIfModel what_if = make_what_if(record_of("exophoria.json", kShort)).value();
  const PricedHabit& habit = what_if.habits.front();
  DebriefState state = make_state(model);
  state.tab = Tab::what_if;
  const WindowSize size{1440, 900, 1};
  test::HeadlessUi ui(size);
  DebriefOutcome outcome;
  const auto draw = [&](Ui& u) {
    outcome = draw_debrief(u, make_debrief_layout(size), model, state, "", &what_if);
  };
  ui.click("watch both", draw);
  CHECK(state.side_by_side);
  CHECK(state.playing);
  CHECK_FALSE(outcome.done_picture.empty());
  CHECK_FALSE(outcome.mended_picture.overlaps(outcome.done_picture));
  const double length = habit.as_done.to_ms - habit.as_done.from_ms;
  advance_beside(0.5, length, state);
  CHECK(state.watched_ms == Approx(500 * kSpeeds[state.speed]));
  advance_beside(1e6, length, state);
  CHECK(state.watched_ms == length);
  CHECK_FALSE(state.playing);
  // A stretch by itself shows what the whole showed at the same time: the eye where its trace is.
  for (const Excerpt* e : {&habit.as_done, &habit.mended}) {
    for (const double after : {0.0, 1000.0, 4000.0}) {
      const examine::Moment moment = e->playback.moment_at(e->from_ms + after);
      const auto at = static_cast<std::size_t>(after / kFrameMs);
      if (std::isnan(e->values_pd[at])) continue;
      const double off = moment.seen.eye[habit.eye].horizontal_deg -
                         moment.room.appearance[habit.eye].horizontal_deg;
      CHECK(100 * std::tan(off * std::acos(-1.0) / 180) ==
            Approx(static_cast<double>(e->values_pd[at])).margin(0.01));
    }
  }
}

TEST_CASE("what if: all its text fits at the four sizes", "[screens][debrief]") {
  const DebriefModel& model = faulty();
  WhatIfModel what_if = make_what_if(record_of("exophoria.json", kShort)).value();
  // The longest words of each kind.
  for (const char* done : {"Alternating before each eye alone", "Spot of light at far distance",
                           "Letters 0.0 logMAR at far distance", "Only 0.9 s open between covers",
                           "Tested without the glasses", "No reversal at far distance"}) {
    what_if.habits.push_back(what_if.habits.front());
    what_if.habits.back().done = done;
    what_if.habits.back().instead = "letters of 0.2 logMAR, a line or two above the worse eye";
    what_if.habits.back().headline = std::string{done} + ": it cost 12.5 marks";
  }
  for (const WindowSize& size : kSizes) {
    for (std::size_t i = 0; i < 2 * what_if.habits.size(); ++i) {
      DebriefState state = make_state(model);
      state.tab = Tab::what_if;
      state.narrow_tab = NarrowTab::what_if;
      state.habit = i / 2;
      state.side_by_side = i % 2 == 1;
      state.estimates = progress::Agreement{212, 1.5, {0.9, 0.7, 1.1}, {}, {}, 1.0, 0.9};
      test::HeadlessUi ui(size);
      const auto draw = [&](Ui& u) {
        (void)draw_debrief(u, make_debrief_layout(size), model, state, "24 November", &what_if);
      };
      ui.frame(draw);
      ui.frame(draw);
      INFO(size.width_px << " at " << size.scale << ", habit " << i);
      CHECK(ui.misfits() == "");
    }
  }
}
