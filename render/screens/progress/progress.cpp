// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/screens/progress/progress.hpp"

#include <fmt/chrono.h>
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <ctime>

#include "sim/scoring/rubric.hpp"

namespace redress::screens {

namespace {

constexpr float kPad = 18;
constexpr float kRow = 28;

/// Title, second line and, at the right, a button. Returns what is left below them.
Rect begin_sheet(Ui& ui, const Rect& r, std::string_view title, std::string_view under,
                 float keep_right) {
  sheet(ui, r);
  Rect in = r.inset(kPad, 12);
  Rect head = in;
  head.cut_right(keep_right);
  const float one = ui.measure_paragraph(head.w, TextStyle::subhead, title);
  ui.paragraph(head.cut_top(one), TextStyle::subhead, Token::ink, title);
  const float two = ui.measure_paragraph(head.w, TextStyle::small, under);
  ui.paragraph(head.cut_top(two), TextStyle::small, Token::ink2, under);
  in.cut_top(one + two + 6);
  return in;
}

/// Columns of equal width but the first, which has what is left.
void draw_table(Ui& ui, const Rect& r, std::string_view id,
                const std::vector<std::vector<std::string>>& rows, float column,
                ProgressModel& model) {
  const float all = kRow * static_cast<float>(rows.size());
  const float up = ui.begin_scroll(id, r, all);
  for (std::size_t i = 0; i < rows.size(); ++i) {
    Rect row{r.x, r.y - up + kRow * static_cast<float>(i), r.w - (all > r.h ? 10 : 0), kRow};
    if (i > 0) ui.line({row.x, row.y}, {row.right(), row.y}, Token::line);
    for (std::size_t k = rows[i].size() - 1; k > 0; --k) {
      ui.text_in(row.cut_right(column), TextStyle::small, i == 0 ? Token::ink2 : Token::ink,
                 rows[i][k], Align::right);
    }
    ui.text_in(row, TextStyle::small, i == 0 ? Token::ink2 : Token::ink, rows[i][0]);
  }
  ui.end_scroll();
  model.scrolled = all;
}

std::string write_date(std::int64_t at_s) {
  return fmt::format("{:%Y-%m-%d}", fmt::gmtime(static_cast<std::time_t>(at_s)));
}

void draw_threshold_part(Ui& ui, const Rect& r, ProgressModel& model, ProgressOutcome& outcome) {
  const ButtonLook look{.kind = model.thresholds.empty() ? ButtonKind::main : ButtonKind::plain};
  const float wide = measure_button(ui, "Train the eye", look);
  const Rect in = begin_sheet(ui, r, model.threshold_head, model.threshold_under, wide + 16);
  if (button(ui, {r.right() - kPad - wide, r.y + 14, wide, 34}, "Train the eye", look)) {
    outcome.train = true;
  }
  if (!model.numbers) {
    draw_thresholds(ui, in, model);
    return;
  }
  std::vector<std::vector<std::string>> rows{{"Day", "Smallest", "from", "to"}};
  for (const ThresholdPoint& p : model.thresholds) {
    rows.push_back({write_date(p.at_s), say_number(p.pd) + "Δ", say_number(p.low) + "Δ",
                    say_number(p.high) + "Δ"});
  }
  draw_table(ui, in, "thresholds", rows, 90, model);
}

void draw_sizes_part(Ui& ui, const Rect& r, ProgressModel& model) {
  Rect in = begin_sheet(ui, r, model.sizes_head, model.sizes_under, 0);
  if (model.numbers) {
    std::vector<std::vector<std::string>> rows{{"Answer", "True", "Said", "Off by"}};
    for (std::size_t i = 0; i < model.answers.size(); ++i) {
      const progress::Judged& a = model.answers[i];
      rows.push_back({fmt::format("{}", i + 1), say_number(a.true_pd) + "Δ",
                      say_number(a.said_pd) + "Δ", say_number(a.said_pd - a.true_pd) + "Δ"});
    }
    draw_table(ui, in, "sizes", rows, 76, model);
    return;
  }
  constexpr float kAdvice = 190;
  if (!model.advice.empty() && in.w > 2 * kAdvice) {
    Rect aside = in.cut_right(kAdvice);
    in.cut_right(16);
    aside.cut_top(8);
    ui.text_in(aside.cut_top(24), TextStyle::strong, Token::ink, "Try next");
    ui.paragraph(aside, TextStyle::small, Token::ink2, model.advice);
  }
  draw_sizes(ui, in, model);
}

void draw_skills_part(Ui& ui, const Rect& r, ProgressModel& model) {
  const std::string under = fmt::format(
      "Full marks among the chances of the last {} days, with the 95 % interval. Firm: the whole "
      "interval lies above 70 %.",
      progress::kRecentDays);
  Rect in = begin_sheet(ui, r, "Which skills are firm", under, 0);
  if (model.numbers) {
    std::vector<std::vector<std::string>> rows{{"Item", "Taken", "Chances", "from", "to"}};
    const auto percent = [](double share) { return fmt::format("{:.0f} %", 100 * share); };
    for (const progress::Skill& s : model.skills) {
      std::string name = s.item + "  ";
      if (s.words.empty()) {
        for (const scoring::RubricLine& line : scoring::kRubric) {
          if (s.item == line.name) name += line.title;
        }
      } else {
        name += s.words;
      }
      rows.push_back({name, fmt::format("{}", s.taken), fmt::format("{}", s.chances),
                      s.chances == 0 ? "–" : percent(s.share.low),
                      s.chances == 0 ? "–" : percent(s.share.high)});
    }
    draw_table(ui, in, "skills", rows, 68, model);
    return;
  }
  constexpr float kTwoColumns = 760;
  constexpr float kLeastRow = 30;
  const bool one_column = in.w < kTwoColumns;
  const float rows = one_column ? 10 : 5;
  if (in.h >= kLeastRow * rows) {
    in.h = std::min(in.h, 52 * rows);
    draw_skills(ui, in, model, one_column);
    return;
  }
  const float all = kLeastRow * rows + 2;
  const float up = ui.begin_scroll("skills", in, all);
  draw_skills(ui, {in.x, in.y - up, in.w - 10, all - 2}, model, one_column);
  ui.end_scroll();
}

void draw_one(Ui& ui, Rect body, ProgressModel& model, ProgressOutcome& outcome) {
  static constexpr std::string_view kParts[] = {"Smallest movement", "Sizes", "Skills"};
  Rect row = body.cut_top(32);
  const float wide = measure_button(ui, model.numbers ? "As plots" : "As numbers");
  if (button(ui, row.cut_right(wide), model.numbers ? "As plots" : "As numbers",
             {.id = "numbers"})) {
    model.numbers = !model.numbers;
  }
  row.cut_right(12);
  const float parts = std::min(row.w, measure_one_of_few(ui, kParts));
  if (const auto pick = one_of_few(ui, {row.x, row.y, parts, 32}, "part", kParts,
                                   static_cast<std::size_t>(model.part))) {
    model.part = static_cast<ProgressPart>(*pick);
  }
  body.cut_top(8);
  switch (model.part) {
    case ProgressPart::threshold: draw_threshold_part(ui, body, model, outcome); break;
    case ProgressPart::sizes: draw_sizes_part(ui, body, model); break;
    case ProgressPart::skills: draw_skills_part(ui, body, model); break;
  }
}

}  // namespace

ProgressOutcome draw_progress(Ui& ui, const StudyLayout& layout, ProgressModel& model) {
  ProgressOutcome outcome;
  ui.go_to(Place::study);
  const StudyBarOutcome bar = draw_study_bar(
      ui, layout, {StudyTab::progress, model.user, model.role, "Kept on this machine only"});
  outcome.tab = bar.tab;
  outcome.change_user = bar.change_user;
  const Rect under{0, layout.bar.bottom(), layout.bar.w, ui.size().y - layout.bar.bottom()};
  ui.begin_region("progress", under, Token::page);
  Rect body = layout.body;
  if (!model.trouble.empty()) {
    const float height = ui.measure_paragraph(body.w - 26, TextStyle::body, model.trouble);
    const Rect note = body.cut_top(height + 6);
    icon(ui, Icon::caution, {note.x + 10, note.y + 11}, Token::care, 16);
    ui.paragraph({note.x + 26, note.y, note.w - 26, height}, TextStyle::body, Token::ink,
                 model.trouble);
  }
  constexpr float kSideBySide = 1100;
  if (layout.compact || body.w < kSideBySide) {
    draw_one(ui, body, model, outcome);
    ui.end_region();
    return outcome;
  }
  Rect top = body.cut_top(std::max(280.0F, body.h - 336));
  body.cut_top(16);
  const Rect left = top.cut_left(std::round((top.w - 16) * 0.54F));
  top.cut_left(16);
  draw_threshold_part(ui, left, model, outcome);
  draw_sizes_part(ui, top, model);
  const float wide = measure_button(ui, model.numbers ? "As plots" : "As numbers", {.key = "F10"});
  draw_skills_part(ui, body, model);
  if (button(ui, {body.right() - kPad - wide, body.y + 10, wide, 32},
             model.numbers ? "As plots" : "As numbers", {.key = "F10", .id = "numbers"})) {
    model.numbers = !model.numbers;
  }
  ui.end_region();
  return outcome;
}

}  // namespace redress::screens
