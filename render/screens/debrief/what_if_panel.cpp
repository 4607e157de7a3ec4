// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// What if: habits by price at the left; at the right what the chosen one did, the same with it
// mended, and the numbers.
#include <algorithm>
#include <array>
#include <cmath>

#include <fmt/format.h>

#include "render/screens/debrief/debrief_screen.hpp"
#include "render/screens/parts/plots.hpp"
#include "sim/findings/shorthand.hpp"

namespace redress::screens::debrief {

namespace {

constexpr float kPad = 14;
constexpr float kListWidth = 440;
constexpr float kRow = 86;

std::string say_marks(double marks) {
  const double rounded = std::round(10 * marks) / 10;
  if (std::abs(rounded) < 0.05) return "–";
  return fmt::format("{} {}", findings::write_number(rounded), rounded == 1 ? "mark" : "marks");
}

std::string say_pd(double pd) {
  return pd < 0.25 ? "–" : fmt::format("{}Δ", findings::write_number(std::round(10 * pd) / 10));
}

/// `none`: said where there is no size.
std::string say_size(const std::optional<double>& pd, bool vertical, std::string_view none) {
  if (!pd) return std::string(none);
  const double size = std::round(10 * std::abs(*pd)) / 10;
  if (size < 0.05) return "0Δ";
  const char* way = vertical ? (*pd < 0 ? "L/R" : "R/L") : *pd < 0 ? "exo" : "eso";
  return fmt::format("{}Δ {}", findings::write_number(size), way);
}

/// `brief`: the rows alone.
void draw_list(Ui& ui, const Rect& r, const WhatIfModel& model, DebriefState& state, bool brief) {
  Rect rest = r;
  const bool total = !brief && model.all_mended.has_value() && model.habits.size() > 1;
  Rect foot;
  if (!brief) {
    ui.text_in(rest.cut_top(28), TextStyle::subhead, Token::ink,
               "The same examination, one thing mended");
    const std::string_view why =
        "Simulated again from your record: same patient, same hands, one change. The difference is "
        "what that habit cost.";
    const float height = ui.measure_paragraph(rest.w, TextStyle::body, why);
    ui.paragraph(rest.cut_top(height), TextStyle::body, Token::ink2, why);
    rest.cut_top(14);
  }
  if (total) {
    foot = rest.cut_bottom(72);
    rest.cut_bottom(12);
  }
  const float wanted = kRow * static_cast<float>(model.habits.size());
  const Rect box = rest.cut_top(std::min(rest.h, wanted));
  sheet(ui, box);
  const double dearest = model.habits.empty() ? 1 : std::max(0.1, model.habits.front().marks);
  const float up = ui.begin_scroll("habits", box, wanted);
  for (std::size_t i = 0; i < model.habits.size(); ++i) {
    const PricedHabit& habit = model.habits[i];
    const Rect row{box.x, box.y - up + kRow * static_cast<float>(i),
                   box.w - (wanted > box.h ? 10 : 0), kRow};
    if (list_row(ui, row.inset(1), fmt::format("habit {}", i), habit.done, i == state.habit)) {
      state.habit = i;
    }
    if (i == state.habit) ui.fill({row.x + 1, row.y + 1, 3, row.h - 2}, Token::act);
    if (i > 0) ui.line({row.x, row.y}, {row.right(), row.y}, Token::line);
    Rect in = row.inset(kPad, 8);
    Rect first = in.cut_top(24);
    ui.text_in(first.cut_right(88), TextStyle::small_strong, Token::ink, say_marks(habit.marks),
               Align::right);
    ui.text_in(first.cut_right(60), TextStyle::small_strong, Token::ink, say_pd(habit.size_pd),
               Align::right);
    ui.text_in(first, TextStyle::strong, Token::ink, habit.done);
    ui.text_in(in.cut_top(22), TextStyle::small, Token::ink2, "instead: " + habit.instead);
    in.cut_top(6);
    const Rect bar = in.cut_top(5);
    ui.fill(bar, Token::well, 2);
    const double share = std::clamp(habit.marks / dearest, 0.0, 1.0);
    if (share > 0) ui.fill({bar.x, bar.y, bar.w * static_cast<float>(share), bar.h}, Token::act, 2);
  }
  ui.end_scroll();
  if (!total) return;
  sheet(ui, foot);
  Rect in = foot.inset(kPad, 10);
  ui.figures_in(in.cut_right(80), TextStyle::head, Token::ink,
                fmt::format("{:.0f}", std::floor(*model.all_mended + 0.5)), Align::right);
  ui.text_in(in.cut_top(26), TextStyle::strong, Token::ink, "All of them mended together");
  ui.text_in(in.cut_top(22), TextStyle::small, Token::ink2,
             "Prices do not add up: faults hide one another.");
}

/// `now_ms`: where a playhead stands.
void draw_excerpt(Ui& ui, Rect r, std::string_view title, const Excerpt& excerpt,
                  const PricedHabit& habit, std::string_view id, std::optional<double> now_ms) {
  sheet(ui, r);
  r = r.inset(kPad, 8);
  Rect head = r.cut_top(24);
  const std::string span =
      fmt::format("{} to {}", write_time(excerpt.from_ms, 0), write_time(excerpt.to_ms, 0));
  ui.text_in(head.cut_right(ui.measure_text(TextStyle::small, span) + 4), TextStyle::small,
             Token::ink2, span, Align::right);
  ui.text_in(head, TextStyle::strong, Token::ink, title);
  const Rect tags = r.cut_top(28);
  const Rect ticks = r.cut_bottom(26);
  Rect box = r;
  box.cut_left(96);
  const TimeAxis axis{excerpt.from_ms, excerpt.to_ms, box.x, box.w};
  LaneLook look;
  const bool right = habit.eye == Eye::right;
  look.name = right ? "Right" : "Left";
  look.token = right ? Token::right_eye : Token::left_eye;
  look.most_pd = habit.most_pd;
  look.tick_pd = std::max(1.0, std::floor(habit.most_pd / 2));
  lane(ui, box, axis, {excerpt.values_pd, excerpt.from_ms, double{kFrameMs}}, excerpt.covers, look);
  // All that is there, as this eye would show it: out is the right eye's right.
  // The lane is of turns to the side: a height is not on it.
  const double across = habit.difference.vertical ? 0 : habit.difference.there_pd;
  const double there = (right ? -1 : 1) * across;
  const float y = box.centre().y - box.h / 2 * static_cast<float>(there / habit.most_pd);
  if (std::abs(there) >= 0.5 && y > box.y && y < box.bottom()) {
    ui.dashes({box.x, y}, {box.right(), y}, Token::ink, 1.5F);
    const std::string words = "all that is there: " + say_pd(std::abs(there));
    const float width = ui.measure_text(TextStyle::small, words);
    const bool above = there > 0;
    ui.text({box.right() - width - 6, above ? y - 20 : y + 3}, TextStyle::small, Token::ink, words);
  }
  time_ticks(ui, {box.x, ticks.y, box.w, ticks.h}, axis);
  float free_from = box.x;
  for (std::size_t i = 0; i < excerpt.movements.size(); ++i) {
    const MovementTag& m = excerpt.movements[i];
    const float width = measure_tag(ui, m.words);
    const float x = axis.x_at(static_cast<double>(m.movement.start_ms));
    const float left =
        std::clamp(x - width / 2, free_from, std::max(free_from, box.right() - width));
    if (left + width > box.right() + 1 || std::abs(left + width / 2 - x) > width) continue;
    const std::string name = fmt::format("{} {}", id, i);
    tag(ui, {left + width / 2, tags.centre().y}, m.words, {false, m.unseen, name});
    ui.line({x, tags.bottom() - 2}, {x, box.y}, Token::edge);
    free_from = left + width + 6;
  }
  if (now_ms) playhead(ui, axis, *now_ms, tags.bottom(), box.bottom());
}

void draw_table(Ui& ui, const Rect& r, const WhatIfModel& model, const PricedHabit& habit) {
  sheet(ui, r);
  const Rect in = r.inset(kPad, 8);
  const scoring::Difference& d = habit.difference;
  const auto total = [](double marks) {
    return findings::write_number(std::round(marks * 10) / 10);
  };
  const auto say = [&d](const std::optional<double>& pd, std::string_view none) {
    return say_size(pd, d.vertical, none);
  };
  const std::string there = say(d.there_pd, "");
  const std::array<std::array<std::string, 4>, 4> rows{{
      {"", "As you did it", "Mended", "There"},
      {"Largest movement seen", say(d.seen_pd, "none"), say(d.seen_mended_pd, "none"), there},
      {"Size written, and that you would have written *", say(d.written_pd, "not written"),
       say(d.written_mended_pd, "not written"), there},
      {"Marks", total(model.total), total(habit.total), ""},
  }};
  const float height = in.h / 4;
  for (std::size_t i = 0; i < rows.size(); ++i) {
    Rect row{in.x, in.y + height * static_cast<float>(i), in.w, height};
    if (i > 0) ui.line({row.x, row.y}, {row.right(), row.y}, Token::line);
    const float column = row.w * 0.18F;
    for (std::size_t k = 3; k > 0; --k) {
      const TextStyle style = i == 0   ? TextStyle::small
                              : k == 2 ? TextStyle::small_strong
                                       : TextStyle::small;
      ui.text_in(row.cut_right(column), style, i == 0 ? Token::ink2 : Token::ink, rows[i][k],
                 Align::right);
    }
    ui.text_in(row, TextStyle::small, Token::ink, rows[i][0]);
  }
}

/// What the sizes that would have been written rest on: the habit of then, and of the drills.
std::string write_note(const PricedHabit& habit, const DebriefState& state) {
  std::string words =
      "* Written with the same habit: as much above or below what was seen as you wrote then.";
  const double size = std::abs(habit.difference.there_pd);
  if (!state.estimates || size < 0.5) return words;
  const double excess = std::round(10 * state.estimates->calc_excess(size)) / 10;
  const std::string how = excess == 0
                              ? "run true"
                              : fmt::format("run {}Δ {}", findings::write_number(std::abs(excess)),
                                            excess > 0 ? "high" : "low");
  return fmt::format("{} In your drills, estimates {} at this size, from {} answers.", words, how,
                     state.estimates->count);
}

/// The patient twice, at the same time since both stretches began.
void draw_beside(Ui& ui, Rect r, const PricedHabit& habit, DebriefState& state,
                 DebriefOutcome& outcome) {
  Rect controls = r.cut_top(36);
  const Icon play = state.playing ? Icon::pause : Icon::play;
  if (button(ui, controls.cut_left(42), "",
             {.kind = ButtonKind::main, .icon = play, .id = "play both"})) {
    apply_beside(Command::play, habit.as_done.to_ms - habit.as_done.from_ms, state);
  }
  controls.cut_left(12);
  ui.figures_in(controls.cut_left(80), TextStyle::strong, Token::ink,
                write_time(state.watched_ms, 2), Align::left);
  ui.text_in(controls, TextStyle::small, Token::ink2,
             fmt::format("{}× as fast as it was; K plays, − and + change it",
                         findings::write_number(kSpeeds[state.speed])));
  r.cut_top(10);
  Rect left = r.cut_left((r.w - 16) / 2);
  r.cut_left(16);
  const auto half = [&](Rect& side, std::string_view title, const Excerpt& excerpt,
                        std::string_view id, Rect& picture) {
    ui.text_in(side.cut_top(26), TextStyle::strong, Token::ink, title);
    picture = side.cut_top(std::round(side.h * 0.5F));
    side.cut_top(8);
    draw_excerpt(ui, side, "", excerpt, habit, id, state.watched_ms + excerpt.from_ms);
  };
  half(left, "As you did it", habit.as_done, "done", outcome.done_picture);
  half(r, "Mended", habit.mended, "mended", outcome.mended_picture);
}

void draw_chosen(Ui& ui, Rect r, const WhatIfModel& model, const PricedHabit& habit,
                 DebriefState& state, DebriefOutcome& outcome) {
  const std::string_view watch = state.side_by_side ? "Back to the traces" : "Watch both";
  const float wide = measure_button(ui, watch);
  Rect top = r;
  top.cut_right(wide + 16);
  const float head = ui.measure_paragraph(top.w, TextStyle::head, habit.headline);
  const float about = ui.measure_paragraph(top.w, TextStyle::body, habit.about);
  ui.paragraph(top.cut_top(head), TextStyle::head, Token::ink, habit.headline);
  ui.paragraph(top.cut_top(about), TextStyle::body, Token::ink2, habit.about);
  if (button(ui, {r.right() - wide, r.y + 2, wide, 36}, watch, {.id = "watch both"})) {
    state.side_by_side = !state.side_by_side;
    state.watched_ms = 0;
    state.playing = state.side_by_side;
    return;
  }
  r.cut_top(head + about + 12);
  if (state.side_by_side) {
    draw_beside(ui, r, habit, state, outcome);
    return;
  }
  const std::string note = write_note(habit, state);
  const float low = ui.measure_paragraph(r.w, TextStyle::small, note);
  ui.paragraph(r.cut_bottom(low), TextStyle::small, Token::ink2, note);
  r.cut_bottom(8);
  const Rect table = r.cut_bottom(std::clamp(r.h * 0.24F, 104.0F, 140.0F));
  r.cut_bottom(12);
  const Rect first = r.cut_top((r.h - 12) / 2);
  r.cut_top(12);
  draw_excerpt(ui, first, "As you did it", habit.as_done, habit, "done", std::nullopt);
  draw_excerpt(ui, r, "Mended", habit.mended, habit, "mended", std::nullopt);
  draw_table(ui, table, model, habit);
}

}  // namespace

void draw_what_if(Ui& ui, const Rect& r, const WhatIfModel* model, DebriefState& state,
                  DebriefOutcome& outcome) {
  if (model == nullptr || model->habits.empty()) {
    sheet(ui, r);
    const std::string_view words =
        model == nullptr
            ? "Your examination is simulated again, one habit mended at a time. A few seconds."
            : "There is no habit here whose mending could be simulated: covers, openings, "
              "targets, correction, order and bracket were as they should be.";
    const Rect in = r.inset(kPad, 12);
    ui.paragraph(in, TextStyle::body, Token::ink2, words);
    return;
  }
  state.habit = std::min(state.habit, model->habits.size() - 1);
  constexpr float kLeastBeside = 1000;
  Rect rest = r;
  if (r.w < kLeastBeside) {
    state.side_by_side = false;
    draw_list(ui, rest, *model, state, true);
    return;
  }
  const Rect list = rest.cut_left(kListWidth);
  rest.cut_left(24);
  draw_list(ui, list, *model, state, false);
  draw_chosen(ui, rest, *model, model->habits[state.habit], state, outcome);
}

}  // namespace redress::screens::debrief
