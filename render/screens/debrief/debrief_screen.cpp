// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/screens/debrief/debrief_screen.hpp"

#include <cmath>
#include <optional>
#include <span>

#include <fmt/format.h>

#include "sim/findings/shorthand.hpp"

namespace redress::screens::debrief {

using Words = std::string_view;

namespace {

constexpr Words kSpeedWords[] = {"0.1×", "0.25×", "0.5×", "1×", "2×", "4×"};
constexpr Words kViews[] = {"Both eyes", "One eye", "Close", "From above"};

struct PictureButtons {
  Words view, occluder;
  ButtonLook view_look, occluder_look;
  float view_w = 0, occluder_w = 0;
};

// Words in full if they fit beside the speeds, else short ones, at last without icons.
PictureButtons choose_buttons(const Ui& ui, const DebriefState& state, float room, float gap) {
  PictureButtons b;
  for (const int brevity : {0, 1, 2}) {
    const bool whole = brevity == 0;
    b.view_look = {.icon = brevity < 2 ? Icon::eye : Icon::none, .id = "view"};
    b.occluder_look = {.icon = brevity < 2 ? Icon::occluder : Icon::none, .id = "occluder"};
    b.view = kViews[state.above ? 3 : static_cast<std::size_t>(state.view)];
    b.occluder = state.clear_occluder ? (whole ? Words("Occluder: clear") : Words("Clear"))
                                      : (whole ? Words("Occluder: as it was") : Words("As it was"));
    b.view_w = measure_button(ui, kViews[3], b.view_look);
    b.occluder_w = measure_button(ui, whole ? Words("Occluder: as it was") : Words("As it was"),
                                  b.occluder_look);
    if (b.view_w + b.occluder_w + 2 * gap <= room) break;
  }
  return b;
}

void draw_bar(Ui& ui, const DebriefLayout& layout, const DebriefModel& model, DebriefState& state,
              Words when, DebriefOutcome& outcome) {
  ui.begin_region("debrief bar", layout.bar, Token::sheet);
  Rect r = layout.bar;
  ui.line({r.x, r.bottom() - 1}, {r.right(), r.bottom() - 1}, Token::line);
  Rect tabs_row = r;
  r = r.inset(layout.compact ? 8 : 16, 8);
  const ButtonLook look{.kind = ButtonKind::quiet, .icon = Icon::back};
  const Words back = state.for_assessor ? Words("Marks") : Words("Cases");
  if (button(ui, r.cut_left(measure_button(ui, back, look)), back, look)) {
    outcome.leave = true;
  }
  r.cut_left(12);
  // The total: of a hundred, whole as it is read out.
  if (!state.blind) {
    const std::string total = fmt::format("{:.0f}", std::floor(model.total + 0.5));
    const float of = ui.measure_text(TextStyle::small, "of 100");
    ui.text_in(r.cut_right(of), TextStyle::small, Token::ink2, "of 100");
    r.cut_right(6);
    ui.figures_in(r.cut_right(ui.measure_figures(TextStyle::head, total) + 2), TextStyle::head,
                  Token::ink, total, Align::right);
    r.cut_right(16);
  }
  if (!layout.narrow && !state.blind) {
    static constexpr Words kTabs[] = {"What happened", "Every mark", "What if"};
    const float width = measure_tabs(ui, kTabs);
    const Rect at = r.cut_right(width);
    tabs_row.x = at.x;
    tabs_row.w = width;
    if (const auto pick = tabs(ui, tabs_row, "tabs", kTabs, static_cast<std::size_t>(state.tab))) {
      state.tab = static_cast<Tab>(*pick);
    }
    r.cut_right(16);
  }
  const Words title = state.example        ? Words("Example")
                      : state.for_assessor ? Words("Station")
                                           : Words("Debrief");
  ui.text_in(r.cut_left(ui.measure_text(TextStyle::subhead, title) + 2), TextStyle::subhead,
             state.example ? Token::act : Token::ink, title);
  r.cut_left(14);
  const Tick seconds = model.playback.end_ms() / 1000;
  std::string who = model.who;
  if (state.example) {
    const std::string by = "the reference examiner with " + who;
    if (ui.measure_text(TextStyle::body, by) <= r.w) who = by;
  } else if (!layout.compact) {
    if (!when.empty()) who += fmt::format("  ·  {}", when);
    who += fmt::format("  ·  {} min {:02} s", seconds / 60, seconds % 60);
  }
  ui.text_in(r, TextStyle::body, Token::ink2, who);
  ui.end_region();
}

/// The patient, with a word on how; in the place of the lines of sight while those are the large
/// picture.
void draw_picture(Ui& ui, const Rect& p, bool compact, const DebriefState& state,
                  DebriefOutcome& outcome) {
  outcome.picture = p;
  outcome.clear_occluder = state.clear_occluder;
  ui.begin_region("picture", p, std::nullopt);
  ui.outline(p, Token::line);
  std::string words = state.example        ? "As the reference examiner saw it"
                      : state.for_assessor ? "As the candidate saw it"
                                           : "As you saw it";
  if (state.clear_occluder) words += ", occluder made transparent";
  if (state.example) words = "An example, not counted. " + words;
  const float width = ui.measure_text(TextStyle::small, words) + 20;
  if (!compact && width + 20 < p.w) {
    const Rect box{p.x + 10, p.bottom() - 36, width, 26};
    ui.fill(box, Token::sheet, kRadiusKey);
    ui.text_in(box.inset(10, 0), TextStyle::small, Token::ink, words);
  }
  ui.end_region();
}

void draw_controls(Ui& ui, const DebriefLayout& layout, const DebriefModel& model,
                   DebriefState& state) {
  ui.begin_region("controls", layout.controls, Token::page);
  Rect r = layout.controls;
  const float height = 36;
  r = {r.x, r.centre().y - height / 2, r.w, height};
  const float side = layout.compact ? 32 : 42;
  const float gap = layout.compact ? 6 : 12;
  if (button(ui, r.cut_left(side), "", {.icon = Icon::back, .id = "movement before"})) {
    apply(model, Command::movement_before, state);
  }
  r.cut_left(gap);
  const Icon play = state.playing ? Icon::pause : Icon::play;
  if (button(ui, r.cut_left(side), "", {.kind = ButtonKind::main, .icon = play, .id = "play"})) {
    apply(model, Command::play, state);
  }
  r.cut_left(gap);
  if (button(ui, r.cut_left(side), "", {.icon = Icon::forward, .id = "movement after"})) {
    apply(model, Command::movement_after, state);
  }
  r.cut_left(gap);
  const std::string now = write_time(state.now_ms, 2);
  const float clock = ui.measure_figures(TextStyle::strong, "00:00.00");
  ui.figures_in(r.cut_left(clock), TextStyle::strong, Token::ink, now, Align::left);
  r.cut_left(gap);

  const float speeds = measure_one_of_few(ui, kSpeedWords);
  const PictureButtons b = choose_buttons(ui, state, r.w - speeds, gap);
  // Before a rating the covered eye stays covered: the candidate did not see it either.
  const Rect occluder_at = state.blind ? Rect{} : r.cut_right(b.occluder_w);
  if (!state.blind) r.cut_right(gap);
  const Rect view_at = r.cut_right(b.view_w);
  r.cut_right(gap);
  const Rect at = r.cut_left(std::min(speeds, r.w));
  if (const auto pick =
          one_of_few(ui, {at.x, at.y + 3, at.w, 30}, "speed", kSpeedWords, state.speed)) {
    state.speed = *pick;
  }
  if (button(ui, view_at, b.view, b.view_look)) apply(model, Command::view, state);
  if (!state.blind && button(ui, occluder_at, b.occluder, b.occluder_look)) {
    apply(model, Command::occluder, state);
  }
  ui.end_region();
}

// The axis belongs to the traces: which direction, and the same as numbers.
void draw_traces(Ui& ui, const Rect& r, const DebriefModel& model, DebriefState& state,
                 bool compact) {
  sheet(ui, r);
  if (state.numbers) {
    draw_numbers(ui, r, model, state);
  } else {
    draw_lanes(ui, r, model, state, compact);
  }
}

void draw_narrow(Ui& ui, const DebriefLayout& layout, const DebriefModel& model,
                 DebriefState& state, const WhatIfModel* what_if, DebriefOutcome& outcome) {
  ui.begin_region("debrief side", layout.lanes, Token::page);
  static constexpr Words kTabs[] = {"Traces",    "Written",    "Marks lost",
                                    "Next time", "Every mark", "What if"};
  Rect r = layout.lanes;
  const Rect row = r.cut_top(30);
  static constexpr Words kBlind[] = {"Covers", "Written", "Rate it"};
  const std::span<const Words> words =
      state.blind ? std::span<const Words>{kBlind} : std::span<const Words>{kTabs};
  const float width = std::min(row.w, measure_one_of_few(ui, words) + 40);
  if (const auto pick = one_of_few(ui, {row.x, row.y, width, 28}, "part", words,
                                   static_cast<std::size_t>(state.narrow_tab))) {
    state.narrow_tab = static_cast<NarrowTab>(*pick);
  }
  r.cut_top(layout.compact ? 2.0F : 6.0F);
  if (state.blind && state.narrow_tab >= NarrowTab::lost) {
    draw_rating(ui, r, outcome);
    ui.end_region();
    return;
  }
  switch (state.narrow_tab) {
    case NarrowTab::traces: draw_traces(ui, r, model, state, layout.compact); break;
    case NarrowTab::written: draw_written(ui, r, model, state); break;
    case NarrowTab::lost: draw_lost(ui, r, model, state); break;
    case NarrowTab::next_time: draw_next_time(ui, r, model, state, outcome); break;
    case NarrowTab::every_mark: draw_every_mark(ui, r, model, state); break;
    case NarrowTab::what_if: draw_what_if(ui, r, what_if, state, outcome); break;
  }
  ui.end_region();
}

/// What the candidate did and wrote, and the rating that is asked for.
void draw_blind_side(Ui& ui, const DebriefLayout& layout, const DebriefModel& model,
                     DebriefState& state, DebriefOutcome& outcome) {
  ui.begin_region("lanes", layout.lanes, Token::page);
  draw_traces(ui, layout.lanes, model, state, layout.compact);
  ui.end_region();
  Rect side{layout.side[0].x, layout.side[0].y, layout.side[0].w,
            layout.side[2].bottom() - layout.side[0].y};
  ui.begin_region("debrief side", side, Token::page);
  draw_rating(ui, side.cut_bottom(layout.side[1].h), outcome);
  side.cut_bottom(layout.side[1].y - layout.side[0].bottom());
  draw_written(ui, side, model, state);
  ui.end_region();
}

}  // namespace

std::string write_time(double at_ms, int decimals) {
  // Down, so that a clock never runs ahead of what is shown.
  const double unit = std::pow(10.0, decimals);
  const auto ticks = static_cast<long long>(std::floor(at_ms / 1000 * unit + 1e-6));
  const auto per_minute = static_cast<long long>(60 * unit);
  return fmt::format("{}:{:0{}.{}f}", ticks / per_minute,
                     static_cast<double>(ticks % per_minute) / unit,
                     decimals > 0 ? decimals + 3 : 2, decimals);
}

DebriefOutcome draw_debrief(Ui& ui, const DebriefLayout& layout, const DebriefModel& model,
                            DebriefState& state, std::string_view when,
                            const WhatIfModel* what_if) {
  DebriefOutcome outcome;
  draw_bar(ui, layout, model, state, when, outcome);
  if (!layout.narrow && !state.blind && state.tab != Tab::what_happened) {
    Rect all =
        calc_overlap({layout.picture.x, layout.picture.y, layout.side[2].right() - layout.picture.x,
                      layout.lanes.bottom() - layout.picture.y},
                     {0, 0, ui.size().x, ui.size().y});
    const bool marks = state.tab == Tab::every_mark;
    // Two patients are drawn under it where both are watched.
    const bool watched = !marks && state.side_by_side;
    ui.begin_region(marks ? "marks" : "what if", all,
                    watched ? std::nullopt : std::optional(Token::page));
    if (marks) {
      draw_every_mark(ui, all, model, state);
    } else {
      draw_what_if(ui, all, what_if, state, outcome);
    }
    ui.end_region();
    return outcome;
  }
  if (state.blind) {
    // In the place of both pictures: where the eyes point is what was there to be found.
    const Rect& a = layout.picture;
    const Rect& b = layout.sight;
    draw_picture(ui, {a.x, a.y, std::max(a.right(), b.right()) - a.x, a.h}, layout.compact, state,
                 outcome);
    draw_controls(ui, layout, model, state);
    if (layout.narrow) {
      draw_narrow(ui, layout, model, state, nullptr, outcome);
    } else {
      draw_blind_side(ui, layout, model, state, outcome);
    }
    return outcome;
  }
  const Rect& front = state.above ? layout.sight : layout.picture;
  const Rect& above = state.above ? layout.picture : layout.sight;
  draw_picture(ui, front, layout.compact, state, outcome);
  ui.begin_region("sight", above, Token::page);
  draw_sight_lines(ui, above, model, state, layout.compact);
  ui.end_region();
  draw_controls(ui, layout, model, state);
  if (layout.narrow) {
    draw_narrow(ui, layout, model, state, what_if, outcome);
    return outcome;
  }
  ui.begin_region("lanes", layout.lanes, Token::page);
  draw_traces(ui, layout.lanes, model, state, layout.compact);
  ui.end_region();
  const Rect side{layout.side[0].x, layout.side[0].y, layout.side[0].w,
                  layout.side[2].bottom() - layout.side[0].y};
  ui.begin_region("debrief side", side, Token::page);
  draw_written(ui, layout.side[0], model, state);
  draw_lost(ui, layout.side[1], model, state);
  if (!state.for_assessor) draw_next_time(ui, layout.side[2], model, state, outcome);
  ui.end_region();
  return outcome;
}

}  // namespace redress::screens::debrief
