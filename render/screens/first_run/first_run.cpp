// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/screens/first_run/first_run.hpp"

#include <algorithm>
#include <array>

namespace redress::screens {

namespace {

struct RoleWords {
  std::string_view title, key, words;
};
constexpr std::array<RoleWords, 3> kRoles{{
    {"I am learning", "1",
     "Practise on patients that behave like patients. Afterwards, see what was missed and why."},
    {"I teach", "2", "Build cases whose truth is computed, and check that they say what you mean."},
    {"I examine", "3",
     "Compose a timed circuit, seal it, run it at many desks, and read the results."},
}};

struct Sizes {
  float row, gap, label, card;
};

/// A question with its row of answers; the label stands beside, in compact above nothing.
Rect begin_row(Ui& ui, Rect& r, const Sizes& sizes, std::string_view label) {
  Rect row = r.cut_top(sizes.row);
  r.cut_top(sizes.gap);
  ui.text_in(row.cut_left(sizes.label), TextStyle::strong, Token::ink, label);
  row.cut_left(12);
  return row;
}

void choose(Ui& ui, const Rect& row, std::string_view id, std::span<const std::string_view> options,
            std::size_t& chosen) {
  const float width = std::min(row.w, measure_one_of_few(ui, options));
  if (const auto picked = one_of_few(ui, {row.x, row.y, width, row.h}, id, options, chosen)) {
    chosen = *picked;
  }
}

void draw_roles(Ui& ui, Rect& r, const Sizes& sizes, bool compact, FirstRunModel& model) {
  Rect cards = r.cut_top(sizes.card);
  const float gap = compact ? 8 : 12;
  const float width = (cards.w - 2 * gap) / 3;
  for (std::size_t i = 0; i < kRoles.size(); ++i) {
    const Rect card = cards.cut_left(width);
    cards.cut_left(gap);
    const bool chosen = model.role == i;
    if (compact) {
      if (chip(ui, card, kRoles[i].title, {.chosen = chosen})) model.role = i;
    } else if (choice_card(ui, card, kRoles[i].title, kRoles[i].key, kRoles[i].words, chosen)) {
      model.role = i;
    }
  }
}

}  // namespace

FirstRunOutcome draw_first_run(Ui& ui, const FirstRunLayout& layout, FirstRunModel& model) {
  FirstRunOutcome outcome;
  ui.go_to(Place::study);
  const Rect ground{layout.compact ? 0 : layout.picture.right(), 0,
                    ui.size().x - (layout.compact ? 0 : layout.picture.right()), ui.size().y};
  ui.begin_region("first run", ground, Token::page);
  const bool compact = layout.compact;
  const bool low = ui.size().y < 800;
  Rect r = layout.form;
  const Sizes sizes{compact ? 30.0F : 36.0F,
                    compact ? 6.0F
                    : low   ? 12.0F
                            : 20.0F,
                    compact ? 128.0F : std::min(208.0F, r.w * 0.27F),
                    compact     ? 36.0F
                    : r.w < 620 ? 196.0F
                                : 152.0F};
  r.cut_top(compact ? 8 : low ? 24 : (r.h - 740) / 2 + 20);
  if (compact) {
    ui.text_in(r.cut_top(30), TextStyle::head, Token::ink, "Redress");
    ui.text_in(r.cut_top(20), TextStyle::small, Token::ink2,
               "A patient’s eyes, to practise the cover test on. It trains; it does not diagnose "
               "real people.");
    r.cut_top(8);
  } else {
    ui.text_in(r.cut_top(40), TextStyle::title, Token::ink, "Redress");
    r.cut_top(4);
    ui.text_in(r.cut_top(24), TextStyle::body, Token::ink2,
               "A patient’s eyes, to practise the cover test on.");
    ui.text_in(r.cut_top(24), TextStyle::body, Token::ink2,
               "It trains; it does not diagnose real people.");
    r.cut_top(low ? 12 : 24);
    ui.text_in(r.cut_top(26), TextStyle::subhead, Token::ink, "Who are you?");
    r.cut_top(8);
  }
  draw_roles(ui, r, sizes, compact, model);
  r.cut_top(compact ? 8 : 6);
  if (!compact) {
    ui.text_in(r.cut_top(22), TextStyle::small, Token::ink2,
               "You can be more than one. Change it under your name, top right.");
    r.cut_top(low ? 10 : 20);
  }
  Rect name = begin_row(ui, r, sizes, "Name or number");
  name.w = std::min(name.w, 320.0F);
  field(ui, name, "name", model.name, {.hint = "as it shall stand on your cards", .longest = 60});
  constexpr std::array<std::string_view, 3> kHands{"Right", "Left", "No mouse: keys or controller"};
  choose(ui, begin_row(ui, r, sizes, "Your mouse hand"), "hand", kHands, model.hand);
  constexpr std::array<std::string_view, 3> kShorthands{"UK: XOP, SOT", "US: X, ET",
                                                        "Hospital: RDS, LCS"};
  choose(ui, begin_row(ui, r, sizes, "Shorthand"), "shorthand", kShorthands, model.shorthand);
  constexpr std::array<std::string_view, 2> kRooms{"Dim", "Light"};
  Rect room = begin_row(ui, r, sizes, "Room");
  choose(ui, room, "room", kRooms, model.room);
  room.cut_left(measure_one_of_few(ui, kRooms) + 16);
  ui.text_in(room, TextStyle::small, Token::ink2, "The patient looks the same in both.");
  constexpr std::array<std::string_view, 4> kSizes{"100 %", "125 %", "150 %", "200 %"};
  const std::size_t before = model.text_size;
  choose(ui, begin_row(ui, r, sizes, "Text size"), "text size", kSizes, model.text_size);
  outcome.text_size_changed = before != model.text_size;

  if (!model.trouble.empty()) {
    const float height = ui.measure_paragraph(r.w, TextStyle::small, model.trouble);
    if (height + 52 <= r.h) {
      ui.paragraph(r.cut_top(height), TextStyle::small, Token::care, model.trouble);
      r.cut_top(8);
    }
  }
  if (!compact) ui.line({r.x, r.y}, {r.right(), r.y}, Token::line);
  r.cut_top(compact ? 0 : low ? 12 : 24);
  Rect last = r.cut_top(compact ? 36 : 44);
  const ButtonLook look{.kind = ButtonKind::main, .icon = Icon::forward};
  const Rect next = last.cut_right(measure_button(ui, "Next", look) + 12);
  last.cut_right(12);
  outcome.next = button(ui, next, "Next", look);
  ui.text_in(last, compact ? TextStyle::small : TextStyle::body, Token::ink2,
             "Next: make this screen true to size. One minute.");
  ui.end_region();
  return outcome;
}

}  // namespace redress::screens
