// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Where things stand: the numbers of the screens' table, nothing in the quiet zone, nothing over
// anything else, at the four sizes and at whatever a window can be dragged to.
#include "render/screens/layout.hpp"

#include <catch2/catch.hpp>

#include <string>
#include <utility>
#include <vector>

using namespace redress::screens;

namespace {

const std::vector<WindowSize> kFour{
    {1920, 1080, 1}, {1440, 900, 1}, {1280, 720, 1}, {1280, 720, 2}};

std::string name_of(const WindowSize& w) {
  return std::to_string(w.width_px) + " x " + std::to_string(w.height_px) + " at " +
         std::to_string(w.scale);
}

/// What may be seen at the same time, besides the patient.
std::vector<std::pair<std::string, Rect>> furniture_of(const ExamineLayout& l) {
  std::vector<std::pair<std::string, Rect>> all{
      {"strip", l.strip}, {"message", l.message}, {"drawer", l.drawer}, {"spine", l.spine}};
  if (!l.compact) all.emplace_back("card", l.card);  // compact: a page over everything
  for (std::size_t i = 0; i < kShelfPlaces; ++i) {
    all.emplace_back("place " + std::to_string(i), l.places[i]);
  }
  return all;
}

void check_room(const WindowSize& window, bool card_open) {
  const ExamineLayout l = make_examine_layout(window, card_open);
  INFO(name_of(window) << (card_open ? ", card open" : ", card folded"));
  const auto all = furniture_of(l);
  const Rect whole{0, 0, window.width(), window.height()};
  for (std::size_t i = 0; i < all.size(); ++i) {
    INFO(all[i].first);
    CHECK_FALSE(all[i].second.overlaps(l.quiet));
    CHECK((all[i].second.empty() || whole.holds(all[i].second, 0.01F)));
    for (std::size_t k = i + 1; k < all.size(); ++k) {
      INFO("and " << all[k].first);
      CHECK_FALSE(all[i].second.overlaps(all[k].second));
    }
  }
  CHECK_FALSE(l.strip.overlaps(l.view));
  CHECK_FALSE(l.message.overlaps(l.view));
  CHECK(l.view.holds(l.quiet, 0.01F));
  CHECK(l.quiet.contains(l.eyes));
}

}  // namespace

TEST_CASE("the room has the measures of the table") {
  struct Row {
    WindowSize window;
    float strip, message, shelf, view;
    double pixels_per_mm;
    float drawer;
  };
  const std::vector<Row> rows{{{1920, 1080, 1}, 44, 36, 116, 884, 12.5, 300},
                              {{1440, 900, 1}, 44, 36, 116, 704, 8.5, 264},
                              {{1280, 720, 1}, 44, 36, 82, 558, 7.2, 190},
                              {{1280, 720, 2}, 36, 30, 48, 246, 9.8, 80}};
  for (const Row& row : rows) {
    INFO(name_of(row.window));
    const ExamineLayout l = make_examine_layout(row.window, true);
    CHECK(l.strip.h == row.strip);
    CHECK(l.message.h == row.message);
    CHECK(l.shelf.h == row.shelf);
    CHECK(l.view.h == row.view);
    CHECK(l.pixels_per_mm == Approx(row.pixels_per_mm).margin(0.05));
    CHECK(l.drawer.h == row.drawer);
    CHECK(l.compact == (row.window.scale == 2));
    CHECK(l.shelf_drawings == (row.shelf == 116));
  }
}

TEST_CASE("nothing stands in the quiet zone, nothing stands on anything else") {
  for (const WindowSize& window : kFour) {
    check_room(window, true);
    check_room(window, false);
  }
}

TEST_CASE("the same holds at every size that a window can be dragged to") {
  for (int width = 640; width <= 3840; width += 137) {
    for (int height = 360; height <= 2160; height += 111) {
      for (const float scale : {1.0F, 1.25F, 1.5F, 2.0F}) {
        const WindowSize window{width, height, scale};
        // The program makes the scale smaller where there is no room for it.
        if (window.width() < 640 || window.height() < 360) continue;
        check_room(window, true);
        check_room(window, false);
      }
    }
  }
}

TEST_CASE("neither scale nor place of the patient changes with the card") {
  for (const WindowSize& window : kFour) {
    INFO(name_of(window));
    const ExamineLayout open = make_examine_layout(window, true);
    const ExamineLayout folded = make_examine_layout(window, false);
    CHECK(open.pixels_per_mm == folded.pixels_per_mm);
    CHECK(open.eyes == folded.eyes);
    CHECK(open.view == folded.view);
    CHECK(open.quiet == folded.quiet);
  }
}

TEST_CASE("the quiet zone is 18 mm above, 16 below, 52 to either side") {
  const ExamineLayout l = make_examine_layout({1920, 1080, 1}, true);
  const auto mm = static_cast<float>(l.pixels_per_mm);
  CHECK(l.eyes.y - l.quiet.y == Approx(18 * mm));
  CHECK(l.quiet.bottom() - l.eyes.y == Approx(16 * mm));
  CHECK(l.eyes.x - l.quiet.x == Approx(52 * mm));
  CHECK(l.quiet.right() - l.eyes.x == Approx(52 * mm));
  CHECK(l.eyes.y == Approx(l.view.y + 0.43F * l.view.h));
}

TEST_CASE("study screens: nothing on anything else, nothing outside") {
  for (const WindowSize& window : kFour) {
    INFO(name_of(window));
    const Rect whole{0, 0, window.width(), window.height()};
    const DebriefLayout d = make_debrief_layout(window);
    std::vector<Rect> parts{d.bar, d.picture, d.sight, d.controls, d.lanes};
    if (!d.narrow) parts.insert(parts.end(), d.side.begin(), d.side.end());
    for (std::size_t i = 0; i < parts.size(); ++i) {
      CHECK(whole.holds(parts[i], 0.01F));
      CHECK_FALSE(parts[i].empty());
      for (std::size_t k = i + 1; k < parts.size(); ++k) CHECK_FALSE(parts[i].overlaps(parts[k]));
    }
    const StudyLayout s = make_study_layout(window);
    CHECK_FALSE(s.bar.overlaps(s.body));
    CHECK(whole.holds(s.body));
    const FirstRunLayout f = make_first_run_layout(window);
    CHECK_FALSE(f.picture.overlaps(f.form));
    CHECK(whole.holds(f.form));
  }
}

TEST_CASE("a window of no size, or a huge one, gives finite rectangles") {
  for (const WindowSize& window :
       {WindowSize{0, 0, 1}, WindowSize{1, 1, 2}, WindowSize{16384, 16384, 1},
        WindowSize{16384, 16, 1}, WindowSize{16, 16384, 2}}) {
    INFO(name_of(window));
    for (const bool open : {true, false}) {
      const ExamineLayout l = make_examine_layout(window, open);
      for (const auto& [name, r] : furniture_of(l)) {
        INFO(name);
        CHECK(r.w >= 0);
        CHECK(r.h >= 0);
        CHECK(r.right() < 40000);
        CHECK(r.bottom() < 40000);
      }
      CHECK(l.pixels_per_mm > 0);
    }
    CHECK(make_debrief_layout(window).picture.w > 0);
  }
}
