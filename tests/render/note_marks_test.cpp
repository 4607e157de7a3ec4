// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Notes under the time axis: however many were written and however the axis is zoomed, none
// overlaps another, none is lost, and each triangle stands where something was written.
#include "render/screens/debrief/note_marks.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <random>

using namespace redress;
using namespace redress::screens;
using namespace redress::screens::debrief;

namespace {

// Letters of one width: what matters is that words are wide.
float measure(std::string_view words) { return 6.5F * static_cast<float>(words.size()); }

void check_placed(const std::vector<PlacedNote>& placed, const std::vector<NoteMark>& notes,
                  const TimeAxis& axis, int rows) {
  std::size_t count = 0;
  for (std::size_t i = 0; i < placed.size(); ++i) {
    const PlacedNote& one = placed[i];
    CHECK(one.row < rows);
    CHECK(one.left() >= axis.x - 6);
    CHECK(one.right() <= axis.x + axis.w + 6);
    const double at = axis.ms_at(one.mark_x);
    const bool written = std::any_of(notes.begin(), notes.end(), [&](const NoteMark& note) {
      return std::abs(static_cast<double>(note.at_ms) - at) < 20;
    });
    CHECK(written);
    for (std::size_t k = 0; k < i; ++k) {
      if (placed[k].row != one.row) continue;
      INFO(placed[k].words << " | " << one.words);
      CHECK((placed[k].right() < one.left() || one.right() < placed[k].left()));
    }
    count += one.count;
  }
  const auto seen = std::count_if(notes.begin(), notes.end(), [&](const NoteMark& note) {
    const auto ms = static_cast<double>(note.at_ms);
    return ms >= axis.from_ms && ms <= axis.to_ms;
  });
  CHECK(count == static_cast<std::size_t>(seen));
}

}  // namespace

TEST_CASE("notes: a few stand in one row, more go to the second, then several become one") {
  const TimeAxis axis{0, 100000, 100, 800};
  const auto place = [&](std::vector<Tick> times) {
    std::vector<NoteMark> notes;
    for (const Tick at : times) notes.push_back({at, "6 m sc 6 XOP"});
    auto placed = place_notes(notes, axis, 2, measure);
    check_placed(placed, notes, axis, 2);
    return placed;
  };
  const auto far = place({10000, 50000});
  REQUIRE(far.size() == 2);
  CHECK(far[1].row == 0);
  CHECK(far[0].words == "you wrote “6 m sc 6 XOP”");
  const auto near = place({10000, 15000});
  REQUIRE(near.size() == 2);
  CHECK(near[1].row == 1);
  const auto many = place({10000, 12000, 14000, 16000});
  REQUIRE(many.size() == 2);
  CHECK(many[1].words == "you wrote 3 entries");
  CHECK(many[1].count == 3);
  // At the right end the words stand at the other side of the triangle.
  const auto last = place({99000});
  REQUIRE(last.size() == 1);
  CHECK(last[0].words_x < last[0].mark_x);
}

TEST_CASE("notes: none overlap, whatever was written and however far it is zoomed") {
  std::minstd_rand chance(7);
  const auto draw = [&](int most) {
    return static_cast<int>(chance() % static_cast<unsigned>(most));
  };
  for (int i = 0; i < 400; ++i) {
    std::vector<NoteMark> notes;
    Tick at = draw(3000);
    for (int k = draw(40); k >= 0; --k) {
      notes.push_back({at, std::string(static_cast<std::size_t>(2 + draw(40)), 'x')});
      at += draw(4) == 0 ? 0 : draw(9000);
    }
    const double from = draw(60000);
    const TimeAxis axis{from, from + 1000 + draw(200000), 50, static_cast<float>(60 + draw(900))};
    const int rows = 1 + draw(2);
    INFO("round " << i);
    check_placed(place_notes(notes, axis, rows, measure), notes, axis, rows);
  }
}
