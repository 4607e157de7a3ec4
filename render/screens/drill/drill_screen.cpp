// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/screens/drill/drill_screen.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <iterator>

namespace redress::screens {

namespace {

constexpr std::size_t kMarks = std::size(kSaidMarks);
constexpr std::string_view kWayWords[] = {"In", "Out", "Up", "Down"};

/// 0 ... kMarks - 1; whole numbers at the marks.
double place_of(double pd) {
  for (std::size_t i = 0; i + 1 < kMarks; ++i) {
    if (pd <= kSaidMarks[i + 1]) {
      const double share = (pd - kSaidMarks[i]) / (kSaidMarks[i + 1] - kSaidMarks[i]);
      return static_cast<double>(i) + std::max(0.0, share);
    }
  }
  return kMarks - 1;
}

/// A scale with a mark for each size; a click takes the nearest.
void draw_scale(Ui& ui, const Rect& r, bool available, DrillState& state) {
  const Touch touch = ui.touch("size", r, "How large", PartKind::stepper, available);
  if (touch.focused) ui.focus_ring(r, kRadiusButton);
  const float left = r.x + 14;
  const float wide = r.w - 34;
  const float y = r.y + 15;
  const auto x_at = [&](double place) {
    return left + wide * static_cast<float>(place / static_cast<double>(kMarks - 1));
  };
  // Enter chooses nothing here: there is no place that it means.
  if (touch.held || (touch.clicked && r.contains(touch.pointer))) {
    const auto place = std::lround((touch.pointer.x - left) / wide * (kMarks - 1));
    const auto at = static_cast<std::size_t>(std::clamp<long>(place, 0, kMarks - 1));
    state.said_pd = kSaidMarks[at];
  }
  if (touch.left_key || touch.down_key) state.said_pd = step_said(state.said_pd, -1);
  if (touch.right_key || touch.up_key) state.said_pd = step_said(state.said_pd, 1);
  ui.line({left, y}, {left + wide, y}, Token::edge, 1.5F);
  for (std::size_t i = 0; i < kMarks; ++i) {
    const float x = x_at(static_cast<double>(i));
    ui.line({x, y - 5}, {x, y + 5}, Token::edge, 1.5F);
    const std::string words = fmt::format("{:g}{}", kSaidMarks[i], i + 1 == kMarks ? "Δ" : "");
    ui.text_in({x - 18, y + 9, 36, 18}, TextStyle::small, Token::ink2, words, Align::centre);
  }
  if (state.said_pd) ui.disc({x_at(place_of(*state.said_pd)), y}, 8, Token::act);
}

void draw_bar(Ui& ui, const DrillLayout& layout, const DrillView& view, DrillState& state,
              DrillOutcome& outcome) {
  ui.begin_region("drill bar", layout.bar, Token::sheet);
  const Rect& bar = layout.bar;
  ui.line({bar.x, bar.bottom() - 1}, {bar.right(), bar.bottom() - 1}, Token::line);
  Rect r = bar.inset(layout.compact ? 8 : 16, layout.compact ? 3 : 8);
  // What is stopped is not kept, so it is asked once.
  const std::string_view stop = view.done          ? "Cases"
                                : state.stop_asked ? "Stop, keep nothing"
                                                   : "Stop";
  const ButtonLook look{.kind = ButtonKind::quiet, .icon = Icon::back, .id = "stop"};
  if (button(ui, r.cut_left(measure_button(ui, stop, look)), stop, look)) {
    outcome.stop = view.done || state.stop_asked || view.pair == 1;
    state.stop_asked = true;
  }
  r.cut_left(12);
  const std::string_view title = "Smallest movement you can see";
  const float wide = ui.measure_text(TextStyle::subhead, title);
  const std::string pair =
      view.done ? std::string{} : fmt::format("Pair {} of {}", view.pair, view.pairs);
  const float pair_w = ui.measure_text(TextStyle::body, pair);
  const float readout = ui.measure_text(TextStyle::small, view.readout);
  if (wide + 14 + pair_w <= r.w) {
    ui.text_in(r.cut_left(wide), TextStyle::subhead, Token::ink, title);
    r.cut_left(14);
  }
  ui.text_in(r.cut_left(pair_w + 2), TextStyle::body, Token::ink2, pair);
  r.cut_left(16);
  if (readout <= r.w) ui.text_in(r, TextStyle::small, Token::ink2, view.readout, Align::right);
  ui.end_region();
}

/// Which of the two.
void draw_which(Ui& ui, Rect row, const DrillView& view, bool compact, DrillState& state) {
  const bool live = !view.showing;
  const float height = std::min(row.h, kDrillHitHeight);
  const auto cell = [&](Rect r) { return Rect{r.x, r.centre().y - height / 2, r.w, height}; };
  const float wide = 122;
  const Rect second = cell(row.cut_right(wide));
  row.cut_right(12);
  const Rect first = cell(row.cut_right(wide - 14));
  row.cut_right(16);
  if (chip(ui, first, "First", {.chosen = state.second == false, .available = live, .key = "←"})) {
    state.second = false;
  }
  if (chip(ui, second, "Second", {.chosen = state.second == true, .available = live, .key = "→"})) {
    state.second = true;
  }
  std::string title = "In which cover did the eye move?";
  std::string under = "Two covers, one after the other. One had a movement. If unsure, guess.";
  if (view.showing) {
    title = !view.patient_is_there ? "The patient is coming in."
            : view.told.empty()    ? "Watch the eye."
                                   : view.told;
    under = view.second_cover ? "Second cover" : "First cover";
  }
  if (compact) {
    const float used = ui.measure_paragraph(row.w, TextStyle::small_strong, title);
    Rect words{row.x, row.centre().y - (used + 18) / 2, row.w, used};
    if (!view.showing) words.y = row.centre().y - used / 2;
    ui.paragraph(words, TextStyle::small_strong, Token::ink, title);
    if (view.showing) {
      ui.text_in({words.x, words.bottom(), words.w, 18}, TextStyle::small, Token::ink2, under);
    }
    return;
  }
  Rect words{row.x, row.centre().y - 24, row.w, 48};
  ui.text_in(words.cut_top(26), TextStyle::subhead, Token::ink, title);
  ui.text_in(words, TextStyle::small, Token::ink2, under);
}

void draw_way(Ui& ui, Rect row, const DrillView& view, DrillState& state) {
  const float wide = std::max(measure_one_of_few(ui, kWayWords), 260.0F);
  const float height = std::min(row.h, kDrillHitHeight);
  Rect at = row.cut_right(wide);
  at = {at.x, at.centre().y - height / 2, at.w, height};
  const std::optional<std::size_t> chosen =
      state.way ? std::optional(static_cast<std::size_t>(*state.way)) : std::nullopt;
  if (const auto pick = one_of_few(ui, at, "way", kWayWords, chosen, !view.showing)) {
    state.way = static_cast<drill::Way>(*pick);
  }
  ui.text_in(row, TextStyle::strong, Token::ink, "Which way?");
}

void draw_questions(Ui& ui, const DrillLayout& layout, const DrillView& view, DrillState& state,
                    DrillOutcome& outcome) {
  Rect r = layout.questions;
  const bool compact = layout.compact;
  draw_which(ui, r.cut_top(compact ? 48 : 72), view, compact, state);
  ui.line({r.x, r.y}, {r.right(), r.y}, Token::line);
  draw_way(ui, r.cut_top(compact ? 46 : 62), view, state);
  Rect row = r.cut_top(compact ? 44 : 58);
  const ButtonLook main{.kind = ButtonKind::main,
                        .available = !view.showing && state.complete(),
                        .why_not = view.showing ? "After both covers." : "Answer all three first."};
  const std::string_view words = view.pair == view.pairs ? "Finish" : "Next pair";
  const float wide = measure_button(ui, "Next pair", main) + 8;
  Rect next;
  if (compact) {
    next = row.cut_right(wide);
    row.cut_right(8);
  }
  Rect scale = row.cut_right(compact ? row.w - 92 : row.w * 0.72F);
  scale = {scale.x, scale.centre().y - 22, scale.w, kDrillHitHeight};
  draw_scale(ui, scale, !view.showing, state);
  ui.text_in(row, TextStyle::strong, Token::ink, "How large?");
  if (!compact) {
    Rect foot = r.cut_top(52);
    next = foot.cut_right(wide);
    ui.text_in(foot, TextStyle::small, Token::ink2,
               "Keys: ← → which, I O U D way, 0 to 20 size, Enter next");
  }
  next = {next.x, next.centre().y - 22, next.w, kDrillHitHeight};
  ButtonLook look = main;
  look.id = "next";
  if (button(ui, next, words, look)) outcome.next = true;
}

void draw_result(Ui& ui, const DrillLayout& layout, const DrillView& view, DrillOutcome& outcome) {
  Rect r = layout.questions;
  r.cut_top(layout.compact ? 6 : 20);
  const auto say = [&](TextStyle style, Token token, const std::string& words) {
    const float height = ui.measure_paragraph(r.w, style, words);
    ui.paragraph(r.cut_top(height), style, token, words);
    r.cut_top(4);
  };
  say(TextStyle::subhead, Token::ink, view.result);
  say(TextStyle::body, Token::ink2, view.details);
  if (!view.trouble.empty()) say(TextStyle::small, Token::ink, view.trouble);
  r.cut_top(layout.compact ? 2 : 10);
  Rect row = r.cut_top(kDrillHitHeight);
  const ButtonLook main{.kind = ButtonKind::main};
  const std::string_view see = "See your progress";
  if (button(ui, row.cut_left(measure_button(ui, see, main)), see, main)) outcome.progress = true;
  row.cut_left(12);
  if (button(ui, row.cut_left(measure_button(ui, "Again")), "Again")) outcome.again = true;
}

}  // namespace

DrillLayout make_drill_layout(const WindowSize& window) {
  DrillLayout layout;
  const StudyLayout study = make_study_layout(window);
  layout.compact = study.compact;
  Rect rest{0, 0, study.bar.w, study.bar.h + study.body.h + (study.compact ? 16.0F : 32.0F)};
  layout.bar = rest.cut_top(study.compact ? 36.0F : 52.0F);
  constexpr float kQuestions = 264;
  constexpr float kCompactQuestions = 142;
  constexpr float kWidest = 780;
  Rect below = rest.cut_bottom(study.compact ? kCompactQuestions : kQuestions);
  const float wide = std::min(kWidest, rest.w);
  layout.picture = {std::round((rest.w - wide) / 2), rest.y, wide, rest.h};
  below = below.inset(study.compact ? 12 : 24, study.compact ? 0 : 8);
  const float column = std::min(kWidest, below.w);
  layout.questions = {std::round(below.x + (below.w - column) / 2), below.y, column, below.h};
  return layout;
}

double step_said(std::optional<double> said_pd, int by) {
  if (!said_pd) return by > 0 ? 1 : 0;
  const auto here = std::lround(place_of(*said_pd));
  const long to = std::clamp<long>(here + by, 0, static_cast<long>(kMarks) - 1);
  return kSaidMarks[static_cast<std::size_t>(to)];
}

double type_said(std::optional<double> typed_before, int digit) {
  if (typed_before && *typed_before > 0) {
    const double both = 10 * *typed_before + digit;
    if (both <= drill::kMostSizePd) return both;
  }
  return digit;
}

DrillOutcome draw_drill(Ui& ui, const DrillLayout& layout, const DrillView& view,
                        DrillState& state) {
  DrillOutcome outcome;
  ui.go_to(Place::study);
  draw_bar(ui, layout, view, state, outcome);
  ui.begin_region("picture", layout.picture, std::nullopt);
  ui.end_region();
  const Rect below{0, layout.picture.bottom(), layout.bar.w, ui.size().y - layout.picture.bottom()};
  ui.begin_region("drill", below, Token::sheet);
  ui.line({below.x, below.y}, {below.right(), below.y}, Token::line);
  if (view.done) {
    draw_result(ui, layout, view, outcome);
  } else {
    draw_questions(ui, layout, view, state, outcome);
  }
  ui.end_region();
  return outcome;
}

}  // namespace redress::screens
