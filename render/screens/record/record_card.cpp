// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/screens/record/record_card.hpp"

#include <array>

#include <fmt/format.h>

#include "render/screens/record/record_rows.hpp"

namespace redress::screens::record {

using Words = std::string_view;

namespace {

constexpr float kPad = 18;
constexpr float kFooter = 56;
constexpr std::array<Words, kSectionCount> kTitles{"Cover and uncover",
                                                   "Prism and alternate cover",
                                                   "Four-dioptre base-out, right and left",
                                                   "Reserves: blur, break, recovery",
                                                   "Near point of convergence",
                                                   "Control score, corneal reflexes",
                                                   "Nine gazes, head tilt",
                                                   "What moved, and what else was seen"};

void draw_section(Ui& ui, Column& column, Section section, CardEditor& editor, RecordState& state) {
  switch (section) {
    case Section::cover: draw_cover_rows(ui, column, editor); return;
    case Section::prism: draw_prism_rows(ui, column, editor, state); return;
    case Section::four_dioptre: draw_four_dioptre_rows(ui, column, editor); return;
    case Section::reserves: draw_reserve_rows(ui, column, editor); return;
    case Section::near_point: draw_near_point_rows(ui, column, editor); return;
    case Section::control:
      draw_control_rows(ui, column, editor);
      draw_reflex_rows(ui, column, editor, state);
      return;
    case Section::gazes: draw_gaze_rows(ui, column, editor, state); return;
    case Section::seen:
      draw_movement_rows(ui, column, editor);
      draw_beside_rows(ui, column, editor, state);
      return;
  }
}

// Title and key; a click opens and closes it.
void draw_section_head(Ui& ui, Column& column, std::size_t index, RecordState& state) {
  const bool open = state.open[index];
  const Rect r{column.area.x, column.area.y, column.area.w, 30};
  const Touch touch =
      ui.touch(fmt::format("section {}", index + 1), r, kTitles[index], PartKind::button);
  if (touch.hovered) ui.fill(r.inset(-6, 0), Token::well, kRadiusButton);
  if (touch.focused) ui.focus_ring(r.inset(-4, 0), kRadiusButton);
  const std::string& key = state.keys.sections[index];
  const float cap = measure_key_cap(ui, key);
  ui.text_in({r.x, r.y, r.w - cap - 8, r.h}, open ? TextStyle::strong : TextStyle::small,
             open ? Token::ink : Token::ink2, kTitles[index]);
  key_cap(ui, {r.right() - cap, r.centre().y}, key);
  if (touch.clicked) state.open[index] = !open;
  column.area.y += 36;
}

void draw_head(Ui& ui, Rect r, CardEditor& editor, const CardKeys& keys) {
  const float cap = measure_key_cap(ui, keys.card);
  key_cap(ui, {r.right() - cap, r.centre().y}, keys.card);
  r.cut_right(cap + 12);
  const float width = measure_one_of_few(ui, kTraditions);
  const Rect choice = Rect{r.right() - width, r.centre().y - 14, width, 28};
  if (const auto pick = one_of_few(ui, choice, "tradition", kTraditions,
                                   static_cast<std::size_t>(editor.tradition()))) {
    editor.use(static_cast<findings::Tradition>(*pick));
  }
  r.cut_right(width + 8);
  const float words = ui.measure_text(TextStyle::small, "Shorthand");
  ui.text_in(r.cut_right(words), TextStyle::small, Token::ink2, "Shorthand");
  ui.text_in(r, TextStyle::subhead, Token::ink, "Record");
}

}  // namespace

std::string write_clock(Tick at_ms) {
  const Tick seconds = at_ms / 1000;
  return fmt::format("{:02}:{:02}", seconds / 60, seconds % 60);
}

void show_section(RecordState& state, Section section) {
  state.open[static_cast<std::size_t>(section)] = true;
  state.focus = section;
}

void write_finding(RecordState& state) { state.focus_line = true; }

RecordOutcome draw_record_card(Ui& ui, const Rect& card, CardEditor& editor, RecordState& state,
                               Tick now) {
  RecordOutcome outcome;
  ui.begin_region("record", card, Token::sheet);
  ui.line({card.x, card.y}, {card.x, card.bottom()}, Token::line);
  if (ui.place() == Place::card) ui.fill({card.x, card.y, card.w, 2}, Token::act);
  Rect inner = card.inset(kPad, 8);
  draw_head(ui, inner.cut_top(40), editor, state.keys);
  inner.cut_top(8);

  Rect footer = inner.cut_bottom(kFooter);
  const Rect all = inner;
  const float up = ui.begin_scroll("rows", all, state.card_height);
  const float right = state.card_height > all.h ? 14 : 0;
  Column column{{all.x + 2, all.y - up + 2, all.w - 4 - right, all.h}, 84};
  column.area.y +=
      draw_line(ui, {column.area.x, column.area.y, column.area.w, 38 + 6 + 54}, editor, state, 38) +
      8;
  column.area.y += draw_conditions(ui, column.area, editor, state) + 10;
  for (std::size_t i = 0; i < kSectionCount; ++i) {
    const bool folded = !state.open[i] && i > 0 && !state.open[i - 1];
    if (!folded) {
      ui.line({column.area.x, column.area.y}, {column.area.x + column.area.w, column.area.y},
              Token::line);
      column.area.y += 8;
    } else {
      column.area.y -= 6;
    }
    if (state.focus == static_cast<Section>(i)) {
      ui.set_scroll("rows", column.area.y + up - all.y - 8);
      ui.focus(ui.full_id(fmt::format("section {}", i + 1)));
      state.focus.reset();
    }
    draw_section_head(ui, column, i, state);
    if (state.open[i]) {
      draw_section(ui, column, static_cast<Section>(i), editor, state);
      column.area.y += 4;
    }
  }
  state.card_height = column.area.y + up - all.y + 4;
  ui.end_scroll();

  ui.line({card.x + kPad, footer.y + 4}, {card.right() - kPad, footer.y + 4}, Token::line);
  footer.cut_top(10);
  const Rect go = footer.cut_left(measure_button(ui, "Impression and plan") + 8);
  if (button(ui, {go.x, footer.y, go.w, 36}, "Impression and plan")) {
    outcome.whole = true;
    state.focus_impression = true;
    editor.settle();
  }
  ui.text_in({footer.x + 8, footer.y, footer.w - 8, 36}, TextStyle::small, Token::ink2,
             !state.kept_on_disk   ? "Kept in memory"
             : editor.is_settled() ? "Kept as you type"
                                   : "Enter writes it",
             Align::right);
  ui.end_region();
  outcome.notes = editor.take_settled(now);
  return outcome;
}

}  // namespace redress::screens::record
