// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The room's furniture: it keeps out of the quiet zone, all text fits, and each part gives its
// order. Sizes: the design of the screens, section 5.
#include <algorithm>
#include <string>
#include <vector>

#include <catch2/catch.hpp>

#include "render/screens/examine/reading.hpp"
#include "render/screens/examine/screen.hpp"
#include "sim/cases/case_file.hpp"
#include "sim/examiners/coach.hpp"
#include "tests/render/headless_ui.hpp"

using namespace redress;
using namespace redress::screens;
using namespace redress::screens::examine;
using redress::test::HeadlessUi;

namespace {

nlohmann::json long_case() {
  nlohmann::json json = nlohmann::json::parse(R"({
    "format": "redress-case", "version": 1, "title": "long",
    "patient": {"name": "Marguerite Featherstonehaugh", "age_years": 99,
                "screen_distance_cm": 64, "near_working_distance_cm": 37.5},
    "refraction": {"spectacles": {"right": {"sphere_d": -11.25}, "left": {"sphere_d": -12.75}}},
    "deviation": {"distance_pd": -6, "near_pd": -9}})");
  json["patient"]["story"] =
      "I read a lot of maps at work, and towards the evening the lines run into each other. "
      "My sister says that one eye looks away when I am tired. I have never had glasses that "
      "helped.";
  return json;
}

Session make_session() {
  const auto parsed = parse_case(long_case());
  REQUIRE(parsed.ok());
  return Session(parsed.value(), long_case(), {3, 0.0}, nullptr);
}

void order(Session& session, const Order& order) {
  session.feed({session.now(), Chosen{order}});
  session.advance_to(session.now() + 2);
}

const std::vector<WindowSize> kSizes{
    {1920, 1080, 1}, {1440, 900, 1}, {1280, 720, 1}, {1280, 720, 2}, {2560, 1440, 2}};

struct Screen {
  explicit Screen(const WindowSize& size, bool card_open = false, Theme theme = Theme::dim)
      : layout(make_examine_layout(size, card_open)), ui(size, theme) {
    choice.mode = "Practice, guided";
    choice.screen_pixels_per_mm = 3.5;
    choice.entries = 12;
  }
  ScreenOutcome frame(const Session& session) {
    ScreenOutcome outcome;
    const auto draw = [&](Ui& u) { outcome = draw_examine(u, layout, session, choice, state); };
    ui.settle(draw);
    return outcome;
  }
  std::vector<Order> click(const Session& session, std::string_view label) {
    std::vector<Order> orders;
    const auto draw = [&](Ui& u) {
      const auto outcome = draw_examine(u, layout, session, choice, state);
      orders.insert(orders.end(), outcome.orders.begin(), outcome.orders.end());
    };
    ui.click(label, draw);
    return orders;
  }
  ExamineLayout layout;
  HeadlessUi ui;
  RoomViewChoice choice;
  ScreenState state;
};

/// The words that take most room, one set after another.
void set_up_longest(Session& session) {
  order(session, {Command::other_occluder});
  order(session, {Command::cover_left_side});
  session.advance_to(session.now() + 400);
  order(session, {Command::prism_kind, 2});
  order(session, {Command::prism_jump, 10});
  order(session, {Command::prism_take});
  order(session, {Command::prism_split});
  order(session, {Command::prism_held, 2});
  order(session, {Command::target_kind, 1});
  order(session, {Command::gaze, 3});
  order(session, {Command::trial_lenses, -12.25});
  order(session, {Command::say, 8});
  order(session, {Command::lean, 140, 0});
  session.advance_to(session.now() + 700);
}

}  // namespace

TEST_CASE("nothing of the room's furniture lies in the quiet zone, and no two parts overlap") {
  for (const WindowSize& size : kSizes) {
    for (const bool card_open : {false, true}) {
      for (const Drawer drawer : {Drawer::none, Drawer::prism, Drawer::target, Drawer::correction,
                                  Drawer::say, Drawer::view, Drawer::story, Drawer::tasks}) {
        Session session = make_session();
        if (drawer != Drawer::none) order(session, {Command::drawer, static_cast<double>(drawer)});
        Screen screen(size, card_open);
        screen.frame(session);
        INFO(size.width_px << " x " << size.height_px << " scale " << size.scale << " drawer "
                           << static_cast<int>(drawer) << " card " << card_open);
        // A page has the place of the patient, who is not drawn then.
        const bool page = screen.layout.compact && is_reading(drawer);
        const auto& regions = screen.ui.probe().regions();
        for (const ProbedRegion& r : regions) {
          INFO(r.name);
          if (!page) CHECK_FALSE(r.rect.overlaps(screen.layout.quiet));
          for (const ProbedRegion& other : regions) {
            if (&other != &r) CHECK_FALSE(r.rect.overlaps(other.rect));
          }
        }
        for (const ProbedPart& p : screen.ui.probe().parts()) {
          if (!page) CHECK_FALSE(p.rect.overlaps(screen.layout.quiet));
        }
        CHECK(std::any_of(regions.begin(), regions.end(), [](const ProbedRegion& r) {
                return r.name == "drawer";
              }) == (drawer != Drawer::none));
      }
    }
  }
}

TEST_CASE("all text fits, the longest too, in every drawer, size and theme") {
  for (const WindowSize& size : kSizes) {
    for (const bool card_open : {false, true}) {
      for (const bool longest : {false, true}) {
        for (const Drawer drawer : {Drawer::none, Drawer::prism, Drawer::target, Drawer::correction,
                                    Drawer::say, Drawer::view, Drawer::story, Drawer::tasks}) {
          Session session = make_session();
          if (longest) set_up_longest(session);
          if (drawer != Drawer::none) {
            order(session, {Command::drawer, static_cast<double>(drawer)});
          }
          Screen screen(size, card_open, longest ? Theme::light : Theme::dim);
          screen.frame(session);
          INFO(size.width_px << " x " << size.height_px << " scale " << size.scale << " drawer "
                             << static_cast<int>(drawer) << " card " << card_open);
          CHECK(screen.ui.misfits() == "");
        }
      }
    }
  }
}

TEST_CASE("what can be clicked is as high as a finger of the mouse needs") {
  Session session = make_session();
  order(session, {Command::drawer, static_cast<double>(Drawer::target)});
  Screen screen({1440, 900, 1});
  screen.frame(session);
  for (const ProbedPart& p : screen.ui.probe().parts()) {
    INFO(p.label << " " << p.rect.h);
    if (p.kind != PartKind::drawing) CHECK(p.rect.h >= 28);
  }
}

TEST_CASE(
    "each place of the shelf opens its drawer, the occluder is exchanged, the card is asked") {
  Session session = make_session();
  Screen screen({1440, 900, 1});
  const auto open = [](Drawer d) {
    return std::vector<Order>{{Command::drawer, static_cast<double>(d), 0}};
  };
  CHECK(screen.click(session, "Other hand") == open(Drawer::prism));
  CHECK(screen.click(session, "Target") == open(Drawer::target));
  CHECK(screen.click(session, "Correction") == open(Drawer::correction));
  CHECK(screen.click(session, "Say or ask") == open(Drawer::say));
  CHECK(screen.click(session, "My view") == open(Drawer::view));
  CHECK(screen.click(session, "Story") == open(Drawer::story));
  CHECK(screen.click(session, "Mouse hand") == std::vector<Order>{{Command::other_occluder}});
  CHECK(screen.click(session, "Card") == std::vector<Order>{{Command::record}});
  CHECK(screen.click(session, "Leave") == std::vector<Order>{{Command::leave}});
  CHECK(screen.click(session, "10Δ") == std::vector<Order>{{Command::prism_jump, 5}});
}

TEST_CASE("choices in the drawers give their orders") {
  Session session = make_session();
  Screen screen({1440, 900, 1});
  order(session, {Command::drawer, static_cast<double>(Drawer::target)});
  CHECK(screen.click(session, "40 cm") == std::vector<Order>{{Command::target_distance, 4}});
  CHECK(screen.click(session, "Spot of light") == std::vector<Order>{{Command::target_kind, 3}});
  CHECK(screen.click(session, "Gaze 4") == std::vector<Order>{{Command::gaze, 4}});
  order(session, {Command::drawer, static_cast<double>(Drawer::say)});
  CHECK(screen.click(session, "Clear?") == std::vector<Order>{{Command::say, 6}});
  order(session, {Command::drawer, static_cast<double>(Drawer::correction)});
  CHECK(screen.click(session, "+2.00") == std::vector<Order>{{Command::trial_lenses, 2}});
}

TEST_CASE("compact: one row of a drawer at a time, and every row can be reached") {
  Session session = make_session();
  order(session, {Command::drawer, static_cast<double>(Drawer::target)});
  Screen screen({1280, 720, 2});
  screen.frame(session);
  CHECK(screen.ui.probe().find("Letter line") != nullptr);
  CHECK(screen.ui.probe().find("40 cm") == nullptr);
  screen.click(session, "drawer/row after");
  screen.frame(session);
  CHECK(screen.ui.probe().find("40 cm") != nullptr);
  CHECK(screen.click(session, "33 cm") == std::vector<Order>{{Command::target_distance, 5}});
  const std::size_t rows = make_drawer(session, Drawer::target, true).rows.size();
  for (std::size_t i = 2; i < rows; ++i) screen.click(session, "drawer/row after");
  screen.frame(session);
  CHECK(screen.ui.probe().shows("Hands and keys"));
}

TEST_CASE("compact: story and tasks are pages that keys, wheel and pad scroll to their end") {
  Session session = make_session();
  for (int i = 0; i < 12; ++i) {
    order(session, {Command::say, 5});
    session.advance_to(session.now() + 3000);
  }
  order(session, {Command::drawer, static_cast<double>(Drawer::story)});
  Screen screen({1280, 720, 2});
  screen.ui.ui().go_to(Place::drawer);
  screen.frame(session);
  CHECK(screen.ui.probe().find("Back to the patient") != nullptr);
  CHECK(screen.ui.probe().find("Target") == nullptr);  // nor anything else of the shelf
  const auto draw = [&](Ui& u) {
    draw_examine(u, screen.layout, session, screen.choice, screen.state);
  };
  const auto where = [&] {
    for (const ProbedText& text : screen.ui.probe().texts()) {
      if (text.text == "Asked so far") return text.given.y;
    }
    FAIL("no talk is shown");
    return 0.0F;
  };
  const float top = where();
  screen.ui.press(window::Key::down, draw);
  const float after_arrow = where();
  CHECK(after_arrow < top);
  screen.ui.press(window::Key::page_down, draw);
  const float after_page = where();
  CHECK(after_page < after_arrow - 100);
  screen.ui.ui().scroll_page(-1);
  screen.frame(session);
  CHECK(where() > after_page);
  // Arrows scroll, so that they do not go from part to part as well.
  CHECK(screen.ui.ui().focused().empty());
  CHECK(screen.click(session, "Tasks J") ==
        std::vector<Order>{{Command::drawer, static_cast<double>(Drawer::tasks)}});
  CHECK(screen.click(session, "Back to the patient") == std::vector<Order>{{Command::close}});
}

TEST_CASE("the shelf says what was set up, and the clock what time it is") {
  Session session = make_session();
  set_up_longest(session);
  const RoomView v = make_room_view(session, {});
  CHECK(v.occluder.now == "Translucent occluder");
  CHECK(v.occluder.detail == "20 mm from the cornea");
  CHECK(v.prism.now == "20Δ in, R and 1Δ in, L");
  CHECK(v.target.now == "Single letter, 0.2 logMAR");
  CHECK(v.target.detail == "6 m, down and to the patient's left");
  CHECK(v.correction.detail == "R −12.25 L −12.25");
  CHECK(v.speech.now == "“Does it go if I cover one eye?”");
  CHECK(v.speech.detail == "Asked once");
  CHECK(v.view.detail == "140 mm right");
  session.advance_to(65'400);
  CHECK(make_room_view(session, {}).clock == "01:05");
}

TEST_CASE("magnification is stated if the screen's size is known, and only then") {
  const Session session = make_session();
  RoomViewChoice choice;
  CHECK(make_room_view(session, choice).readout == "Size on this screen not known");
  choice.screen_pixels_per_mm = 3.5;
  CHECK(make_room_view(session, choice).readout ==
        "2.4× life size  ·  1Δ turns the eye 0.12 mm = 0.29 mm on this screen");
}

TEST_CASE("every view tells its own magnification and what a prism dioptre measures in it") {
  Session session = make_session();
  RoomViewChoice choice;
  choice.screen_pixels_per_mm = 3.5;
  double before = 0;
  for (const double closeness : {0.0, 1.0, 2.0}) {
    order(session, {Command::view, closeness});
    const double times = session.view().pixels_per_mm / 3.5;
    const std::string told = make_room_view(session, choice).readout;
    INFO(told);
    // "T× life size  ·  1Δ turns the eye 0.12 mm = S mm on this screen"
    CHECK(std::stod(told) == Approx(times).margin(0.051));
    const std::size_t at = told.find("= ");
    REQUIRE(at != std::string::npos);
    // 1Δ turns a point 12 mm before the centre of rotation by 12 mm / 100.
    CHECK(std::stod(told.substr(at + 2)) == Approx(0.12 * times).epsilon(0.03));
    CHECK(times > before);
    before = times;
  }
}

TEST_CASE("a patient's own distances carry no number until they were asked for") {
  Session session = make_session();
  order(session, {Command::target_distance, 3});
  CHECK(make_room_view(session, {}).target.detail == "Own screen, straight ahead");
  for (const DrawerRow& row : make_drawer(session, Drawer::target, false).rows) {
    for (const DrawerItem& item : row.items) CHECK(item.label.find("64") == std::string::npos);
  }
  const auto work = std::find_if(kPhrases.begin(), kPhrases.end(),
                                 [](const Phrase& p) { return p.what == "work"; });
  order(session, {Command::say, static_cast<double>(work - kPhrases.begin())});
  session.advance_to(session.now() + 1500);
  CHECK(make_room_view(session, {}).target.detail == "64 cm, straight ahead");
}

TEST_CASE("the furniture knows only what the user did: two patients, one view") {
  nlohmann::json other = long_case();
  other["deviation"] = {{"distance_pd", 40}, {"near_pd", 45}};
  other["fusion"] = {{"present", false}};
  const auto parsed = parse_case(other);
  REQUIRE(parsed.ok());
  Session squint(parsed.value(), other, {99, 1.0}, nullptr);
  Session plain = make_session();
  for (Session* session : {&squint, &plain}) {
    order(*session, {Command::cover_left_side});
    order(*session, {Command::prism_take});
    session->advance_to(2000);
    order(*session, {Command::transfer});
    session->advance_to(4000);
  }
  const RoomView a = make_room_view(squint, {});
  const RoomView b = make_room_view(plain, {});
  CHECK(a.occluder.detail == b.occluder.detail);
  CHECK(a.prism.now == b.prism.now);
  CHECK(a.target.detail == b.target.detail);
  CHECK(a.speech.now == b.speech.now);
  CHECK(a.clock == b.clock);
  CHECK(a.message == b.message);
  for (const Drawer d : {Drawer::prism, Drawer::target, Drawer::correction, Drawer::say}) {
    const DrawerView x = make_drawer(squint, d, false);
    const DrawerView y = make_drawer(plain, d, false);
    REQUIRE(x.rows.size() == y.rows.size());
    for (std::size_t i = 0; i < x.rows.size(); ++i) {
      REQUIRE(x.rows[i].items.size() == y.rows[i].items.size());
      for (std::size_t j = 0; j < x.rows[i].items.size(); ++j) {
        CHECK(x.rows[i].items[j].label == y.rows[i].items[j].label);
        CHECK(x.rows[i].items[j].chosen == y.rows[i].items[j].chosen);
      }
    }
  }
}

TEST_CASE("the coach's word has the message line while nothing else is said, and fits") {
  const std::string longest =
      "Which eye, which way, how much, how it came back; unwritten is not found";
  REQUIRE(longest.size() >= examiners::kLongestAdvice - 4);
  for (const WindowSize& size : kSizes) {
    for (const bool card_open : {false, true}) {
      for (const bool why : {false, true}) {
        Session session = make_session();
        Screen screen(size, card_open);
        screen.choice.coach = CoachWords{longest, longest, why};
        screen.frame(session);
        INFO(size.width_px << " x " << size.height_px << " scale " << size.scale << " card "
                           << card_open);
        CHECK(screen.ui.misfits() == "");
        CHECK(screen.ui.probe().find_centre("message/coach").has_value());
        const auto orders = screen.click(session, why ? "What next?" : "Why?");
        REQUIRE(orders.size() == 1);
        CHECK(orders[0] == Order{Command::coach_why});
        // Speech has the line.
        order(session, {Command::say, 8});
        session.advance_to(session.now() + 2000);
        screen.frame(session);
        CHECK_FALSE(screen.ui.probe().find_centre("message/coach").has_value());
      }
    }
  }
}
