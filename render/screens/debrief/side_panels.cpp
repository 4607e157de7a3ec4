// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// What was written beside what was there, marks that were lost with their evidence, three things
// for next time; and every mark in a table.
#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "render/screens/debrief/debrief_screen.hpp"
#include "render/screens/parts/plots.hpp"
#include "sim/findings/shorthand.hpp"

namespace redress::screens::debrief {

namespace {

constexpr float kPad = 14;
constexpr std::size_t kTimesShown = 3;

std::string say_marks(double marks) { return findings::write_number(std::round(10 * marks) / 10); }

void mark(Ui& ui, Point centre, Judged judged) {
  switch (judged) {
    case Judged::full: result_mark(ui, centre, Result::full); return;
    case Judged::part: result_mark(ui, centre, Result::part); return;
    case Judged::none: result_mark(ui, centre, Result::none); return;
    case Judged::unjudged: return;
  }
}

// A link in the small type; returns its right edge.
float link(Ui& ui, Point at, std::string_view words, const std::string& id, bool& clicked) {
  const float width = ui.measure_text(TextStyle::small, words);
  const Rect r{at.x - 3, at.y - 3, width + 6, 24};
  const Touch touch = ui.touch(id, r, words, PartKind::button);
  ui.text(at, TextStyle::small, Token::act, words);
  if (touch.hovered) {
    ui.line({at.x, at.y + 17}, {at.x + width, at.y + 17}, Token::act);
  }
  if (touch.focused) ui.focus_ring(r, kRadiusKey);
  clicked = touch.clicked;
  return at.x + width;
}

// Times of the evidence, each a link, and the word "show". Returns true and the time if clicked.
template <class At>
std::optional<double> draw_times(Ui& ui, Point at, float right, std::size_t count, const At& time,
                                 const std::string& id) {
  std::optional<double> picked;
  float x = at.x;
  for (std::size_t i = 0; i < std::min(count, kTimesShown); ++i) {
    const std::string words = write_time(time(i), 1);
    if (x + ui.measure_text(TextStyle::small, words) > right - 50) break;
    bool clicked = false;
    x = link(ui, {x, at.y}, words, fmt::format("{} {}", id, i), clicked) + 12;
    if (clicked) picked = time(i);
  }
  if (count > 0) {
    bool clicked = false;
    link(ui, {x, at.y}, "show", id + " show", clicked);
    if (clicked) picked = time(0);
  }
  return picked;
}

Rect begin_panel(Ui& ui, const Rect& r, std::string_view title) {
  sheet(ui, r);
  Rect inner = r.inset(kPad, 10);
  ui.text_in(inner.cut_top(24), TextStyle::strong, Token::ink, title);
  inner.cut_top(4);
  return inner;
}

/// Each entry with its time, as the card read it: without what was there, and without the rows that
/// stand only because something was.
void draw_notes_alone(Ui& ui, const Rect& r, const DebriefModel& model, DebriefState& state) {
  Rect inner = begin_panel(ui, r, "What the candidate wrote");
  if (model.notes.empty()) {
    ui.text_in(inner.cut_top(24), TextStyle::body, Token::ink2, "Nothing.");
    return;
  }
  const float up = ui.begin_scroll("rows", inner, state.rows_height);
  const float bar = state.rows_height > inner.h ? 10 : 0;
  const float clock = ui.measure_figures(TextStyle::small, "00:00") + 12;
  float y = inner.y - up;
  for (const NoteMark& note : model.notes) {
    Rect line{inner.x, y, inner.w - bar, 0};
    const float wide = line.w - clock;
    line.h = std::max(30.0F, ui.measure_paragraph(wide, TextStyle::small_strong, note.words) + 12);
    ui.line({line.x, y}, {line.right(), y}, Token::line);
    y += line.h;
    ui.figures_in(line.cut_left(clock), TextStyle::small, Token::ink2,
                  write_time(static_cast<double>(note.at_ms), 0), Align::left);
    ui.paragraph(line.inset(0, 6), TextStyle::small_strong, Token::ink, note.words);
  }
  ui.end_scroll();
  state.rows_height = y + up - inner.y + 2;
}

}  // namespace

void draw_written(Ui& ui, const Rect& r, const DebriefModel& model, DebriefState& state) {
  if (state.blind) {
    draw_notes_alone(ui, r, model, state);
    return;
  }
  Rect inner = begin_panel(ui, r,
                           state.example        ? "What was written, and what was there"
                           : state.for_assessor ? "What the candidate wrote, and what was there"
                                                : "What you wrote, and what was there");
  constexpr float kRow = 30;
  const auto columns = [&](const Rect& row) {
    struct {
      Rect finding, written, there, mark;
    } c;
    Rect rest = row;
    c.mark = rest.cut_right(30);
    c.finding = rest.cut_left(rest.w * 0.34F);
    c.written = rest.cut_left(rest.w * 0.5F);
    c.there = rest;
    for (Rect* each : {&c.finding, &c.written, &c.there}) each->w -= 8;
    return c;
  };
  const Rect head = inner.cut_top(24);
  const float bar = state.rows_height > inner.h ? 10 : 0;
  const auto h = columns({head.x, head.y, head.w - bar, head.h});
  ui.text_in(h.finding, TextStyle::small, Token::ink2, "Finding");
  ui.text_in(h.written, TextStyle::small, Token::ink2, "Written");
  ui.text_in(h.there, TextStyle::small, Token::ink2, "There");
  const float up = ui.begin_scroll("rows", inner, state.rows_height);
  float y = inner.y - up;
  for (std::size_t i = 0; i < model.rows.size(); ++i) {
    const ComparedRow& row = model.rows[i];
    // Long words take a second line rather than being cut.
    const auto probe = columns({inner.x, y, inner.w - bar, kRow});
    const float lines =
        std::max({ui.measure_paragraph(probe.finding.w, TextStyle::small, row.finding),
                  ui.measure_paragraph(probe.written.w, TextStyle::small_strong, row.written),
                  ui.measure_paragraph(probe.there.w, TextStyle::small, row.there)});
    const float height = std::max(kRow, lines + 12);
    const Rect at{inner.x, y, inner.w - bar, height};
    ui.line({at.x, y}, {at.right(), y}, Token::line);
    const auto c = columns(at);
    const auto words = [&](const Rect& cell, TextStyle style, std::string_view text) {
      const float used = ui.measure_paragraph(cell.w, style, text);
      ui.paragraph({cell.x, cell.y + (cell.h - used) / 2, cell.w, used}, style, Token::ink, text);
    };
    words(c.finding, TextStyle::small, row.finding);
    words(c.written, TextStyle::small_strong, row.written);
    words(c.there, TextStyle::small, row.there);
    mark(ui, {c.mark.centre().x, c.mark.centre().y}, row.judged);
    y += height;
  }
  ui.end_scroll();
  state.rows_height = y + up - inner.y + 2;
}

void draw_lost(Ui& ui, const Rect& r, const DebriefModel& model, DebriefState& state) {
  Rect inner = begin_panel(ui, r, "Marks that were lost");
  const std::string all = fmt::format("All {} marks", model.marks.size());
  const float all_w = ui.measure_text(TextStyle::small, all);
  bool all_clicked = false;
  link(ui, {r.right() - kPad - all_w, r.y + 13}, all, "all marks", all_clicked);
  if (all_clicked) {
    state.tab = Tab::every_mark;
    state.narrow_tab = NarrowTab::every_mark;
  }
  if (model.lost.empty()) {
    ui.text_in(inner.cut_top(24), TextStyle::body, Token::ink2, "None.");
    return;
  }
  std::optional<double> go;
  const float up = ui.begin_scroll("lost", inner, state.lost_height);
  const float bar = state.lost_height > inner.h ? 10 : 0;
  float y = inner.y - up;
  for (const std::string& limit : model.limits) {
    const float used = ui.measure_paragraph(inner.w - bar, TextStyle::small_strong, limit);
    ui.paragraph({inner.x, y + 4, inner.w - bar, used}, TextStyle::small_strong, Token::care,
                 limit);
    y += used + 10;
  }
  for (std::size_t i = 0; i < model.lost.size(); ++i) {
    const LostMark& lost = model.lost[i];
    if (i > 0) ui.line({inner.x, y}, {inner.right() - bar, y}, Token::line);
    const float left = inner.x + 56;
    const float width = inner.right() - bar - left;
    ui.text_in({inner.x, y + 5, 42, 22}, TextStyle::strong, Token::care,
               "−" + say_marks(lost.marks), Align::right);
    const float used = ui.measure_paragraph(width, TextStyle::body, lost.words);
    ui.paragraph({left, y + 5, width, used}, TextStyle::body, Token::ink, lost.words);
    y += used + 6;
    if (!lost.at_ms.empty()) {
      if (const auto at = draw_times(
              ui, {left, y}, inner.right() - bar, lost.at_ms.size(),
              [&](std::size_t k) { return static_cast<double>(lost.at_ms[k]); },
              fmt::format("lost {}", i))) {
        go = at;
      }
      y += 22;
    }
    y += 6;
  }
  ui.end_scroll();
  state.lost_height = y + up - inner.y;
  if (go) {
    show(model, *go, state);
    state.narrow_tab = NarrowTab::traces;
  }
}

void draw_next_time(Ui& ui, const Rect& r, const DebriefModel& model, DebriefState& state,
                    DebriefOutcome& outcome) {
  static constexpr std::string_view kCounts[] = {"For next time", "One thing for next time",
                                                 "Two things for next time",
                                                 "Three things for next time"};
  constexpr float kLow = 150;  // below, the buttons stand beside the words
  const bool low = r.h < kLow;
  const std::string_view again_words =
      state.example ? "Try it yourself" : "Again with this patient";
  const float again_w = measure_button(ui, again_words) + 4;
  const ButtonLook quiet{.kind = ButtonKind::quiet};
  const float show_w = measure_button(ui, "Show me", quiet);
  const float other_w = measure_button(ui, "Someone else");
  Rect inner;
  Rect again;
  Rect show_at;
  Rect other;
  if (low) {
    sheet(ui, r);
    inner = r.inset(kPad, 6);
    Rect column = inner.cut_right(std::max(again_w, show_w + 8 + other_w));
    inner.cut_right(16);
    again = column.cut_top(32);
    column.cut_top(6);
    Rect row = column.cut_top(32);
    other = row.cut_right(other_w);
    row.cut_right(8);
    show_at = row.cut_right(show_w);
  } else {
    inner = begin_panel(ui, r,
                        state.example ? "An example, not counted as yours"
                                      : kCounts[std::min<std::size_t>(model.next_time.size(), 3)]);
    Rect foot = inner.cut_bottom(36);
    inner.cut_bottom(8);
    again = foot.cut_left(again_w);
    foot.cut_left(8);
    // Beside the title: below there is room for two.
    show_at = {r.right() - kPad - show_w + 8, r.y + 6, show_w, 32};
    other = foot.cut_left(std::min(other_w, foot.w));
  }
  const float up = ui.begin_scroll("next", inner, state.next_height);
  float y = inner.y - up;
  const float bar = state.next_height > inner.h ? 10 : 0;
  if (state.example || model.next_time.empty()) {
    const std::string_view words =
        state.example
            ? "Watch how each cover is held, when both eyes are open, and what is written "
              "before the next distance. J and L go from movement to movement."
            : "Nothing was lost. Try somebody else.";
    const float used = ui.measure_paragraph(inner.w - bar, TextStyle::body, words);
    ui.paragraph({inner.x, y, inner.w - bar, used}, TextStyle::body, Token::ink2, words);
    y += used;
  }
  for (std::size_t i = 0; i < model.next_time.size() && !state.example; ++i) {
    const float width = inner.w - 24 - bar;
    const float used = ui.measure_paragraph(width, TextStyle::body, model.next_time[i]);
    ui.text({inner.x, y}, TextStyle::strong, Token::act, fmt::format("{}", i + 1));
    ui.paragraph({inner.x + 24, y, width, used}, TextStyle::body, Token::ink, model.next_time[i]);
    y += used + 8;
  }
  ui.end_scroll();
  state.next_height = y + up - inner.y;
  if (button(ui, again, again_words, {.kind = ButtonKind::main})) outcome.again = true;
  if (!state.example && button(ui, show_at, "Show me", quiet)) outcome.show_me = true;
  if (button(ui, other, "Someone else")) outcome.leave = true;
}

void draw_every_mark(Ui& ui, const Rect& r, const DebriefModel& model, DebriefState& state) {
  sheet(ui, r);
  Rect inner = r.inset(kPad, 8);
  std::optional<double> go;
  const bool wide = inner.w >= 900;
  const float up = ui.begin_scroll("marks", inner, state.marks_height);
  const float bar = state.marks_height > inner.h ? 12 : 0;
  float y = inner.y - up;
  for (std::size_t i = 0; i < model.marks.size(); ++i) {
    const MarkLine& line = model.marks[i];
    Rect row{inner.x, y + 8, inner.w - bar, 0};
    if (i > 0) ui.line({row.x, y}, {row.right(), y}, Token::line);
    ui.text({row.x, row.y}, TextStyle::small, Token::ink2, line.name);
    const std::string figures = say_marks(line.marks) + " / " + say_marks(line.max);
    ui.figures_in({row.right() - 120, row.y, 90, 22}, TextStyle::strong, Token::ink, figures,
                  Align::right);
    mark(ui, {row.right() - 12, row.y + 11}, line.judged);
    const float left = row.x + 40;
    const float width = wide ? row.w * 0.32F : row.w - 40 - 130;
    const float title = ui.measure_paragraph(width, TextStyle::strong, line.title);
    ui.paragraph({left, row.y, width, title}, TextStyle::strong, Token::ink, line.title);
    const Point why_at = wide ? Point{left + width + 24, row.y} : Point{left, row.y + title + 2};
    const float why_w = row.right() - 130 - why_at.x;
    const float why = ui.measure_paragraph(why_w, TextStyle::small, line.why);
    ui.paragraph({why_at.x, why_at.y + 2, why_w, why}, TextStyle::small, Token::ink2, line.why);
    float bottom = std::max(row.y + title, why_at.y + 2 + why);
    if (!line.evidence.empty()) {
      if (const auto at = draw_times(
              ui, {why_at.x, why_at.y + why + 6}, row.right(), line.evidence.size(),
              [&](std::size_t k) { return static_cast<double>(line.evidence[k].at_ms); },
              fmt::format("mark {}", i))) {
        go = at;
      }
      bottom = std::max(bottom, why_at.y + why + 28);
    }
    y = bottom + 8;
  }
  ui.end_scroll();
  state.marks_height = y + up - inner.y;
  if (go) {
    show(model, *go, state);
    state.narrow_tab = NarrowTab::traces;
  }
}

}  // namespace redress::screens::debrief
