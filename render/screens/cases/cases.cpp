// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/screens/cases/cases.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "render/screens/cases/cases_parts.hpp"

namespace redress::screens {

namespace {

constexpr float kRowHeight = 66;
constexpr float kHeadHeight = 32;
constexpr float kSidebar = 240;

std::string who(const CaseRow& row) {
  return fmt::format("{}, {:.0f}", row.name, std::floor(row.age_years));
}

/// Left edges and widths of the columns; those that do not fit are left out from the right.
struct Columns {
  Rect picture, patient, goal, level, done, best, last;
};

Columns divide(const Rect& row, bool compact) {
  Columns c;
  Rect rest = row.inset(compact ? 8 : 12, 0);
  if (row.w >= 860) c.last = rest.cut_right(100);
  if (row.w >= 480) {
    c.best = rest.cut_right(48);
    rest.cut_right(8);
    c.done = rest.cut_right(64);
  }
  if (row.w >= 700) {
    rest.cut_right(16);
    c.level = rest.cut_right(64);
  }
  c.picture = rest.cut_left(compact ? 78.0F : 120.0F);
  rest.cut_left(16);
  if (row.w >= 700) {
    c.goal = rest.cut_right(rest.w * 0.54F);
    rest.cut_right(12);
  }
  c.patient = rest;
  return c;
}

void draw_level(Ui& ui, const Rect& r, int level) {
  for (int i = 0; i < 5; ++i) {
    const float height = 4 + 2 * static_cast<float>(i);
    const Rect bar{r.x + 11 * static_cast<float>(i), r.centre().y + 6 - height, 8, height};
    ui.fill(bar, i < level ? Token::ink2 : Token::line, 1);
  }
}

void draw_picture(Ui& ui, const Rect& cell, std::uintptr_t picture) {
  const float height = std::min(cell.h - 12, cell.w / 2.8F);
  const Rect r{cell.x, cell.centre().y - height / 2, cell.w, height};
  ui.fill(r, Token::surround, kRadiusKey);
  if (picture != 0) ui.picture(r, picture, kRadiusKey);
}

void draw_row(Ui& ui, const Rect& r, const CaseRow& row, std::uintptr_t picture, bool compact) {
  const Columns c = divide(r, compact);
  draw_picture(ui, c.picture, picture);
  // A complaint takes two lines where it has to; what an educator wrote at greater length is cut
  // there, and stands whole in the story.
  constexpr float kName = 22;
  constexpr float kTwoLines = 36;
  const float lines =
      std::min(kTwoLines, ui.measure_paragraph(c.patient.w, TextStyle::small, row.complaint));
  Rect words = c.patient.inset(0, (r.h - kName - lines) / 2);
  ui.text_in(words.cut_top(kName), TextStyle::strong, Token::ink, who(row));
  ui.push_clip(words);
  ui.paragraph(words, TextStyle::small, Token::ink2, row.complaint);
  ui.pop_clip();
  if (!c.goal.empty()) {
    const std::string_view goal =
        row.goal.empty() ? std::string_view{"From beginning to end"} : std::string_view{row.goal};
    const float height = ui.measure_paragraph(c.goal.w, TextStyle::body, goal);
    ui.paragraph({c.goal.x, c.goal.centre().y - height / 2, c.goal.w, height}, TextStyle::body,
                 Token::ink, goal);
  }
  if (!c.level.empty() && row.level > 0) draw_level(ui, c.level, row.level);
  if (!c.done.empty()) {
    ui.text_in(c.done, TextStyle::small, Token::ink,
               row.times_done == 0   ? "–"
               : row.times_done == 1 ? "1 time"
                                     : fmt::format("{} times", row.times_done));
    ui.figures_in(c.best, TextStyle::strong, Token::ink,
                  row.best ? fmt::format("{}", *row.best) : "–", Align::right);
  }
  if (!c.last.empty()) {
    ui.text_in({c.last.x + 16, c.last.y, c.last.w - 16, c.last.h}, TextStyle::small, Token::ink2,
               row.last.empty() ? "new" : row.last);
  }
}

void draw_head(Ui& ui, const Rect& r, bool compact) {
  const Columns c = divide(r, compact);
  const auto head = [&](const Rect& cell, std::string_view words, Align align = Align::left) {
    if (!cell.empty()) ui.text_in(cell, TextStyle::small, Token::ink2, words, align);
  };
  if (!compact) head({c.picture.x, r.y, c.picture.w, r.h}, "Patient");
  head(c.goal, "What you will practise");
  head(c.level, "Level");
  head(c.done, "Done");
  head(c.best, "Best", Align::right);
  if (!c.last.empty()) head({c.last.x + 16, r.y, c.last.w - 16, r.h}, "Last");
}

/// There is no column at the left to search and filter in: it stands in the head of the list.
void draw_narrowing(Ui& ui, Rect r, CasesModel& model, CasesOutcome& outcome) {
  const std::string_view now = kCaseFilters[model.filter];
  // As wide as its longest word, so that it does not move.
  float width = 0;
  for (const std::string_view words : kCaseFilters) {
    width = std::max(width, measure_button(ui, words));
  }
  if (button(ui, r.cut_right(width), now, {.id = "filter"})) {
    outcome.filter = (model.filter + 1) % std::size(kCaseFilters);
  }
  r.cut_right(8);
  field(ui, r, "search", model.search, {.hint = "Search"});
}

CasesOutcome draw_table(Ui& ui, const Rect& r, CasesModel& model,
                        const std::vector<std::size_t>& shown, bool compact) {
  CasesOutcome outcome;
  sheet(ui, r);
  Rect inner = r.inset(1);
  const float all = static_cast<float>(shown.size()) * kRowHeight;
  const float width = all > inner.h - kHeadHeight - 1 ? inner.w - 8 : inner.w;
  const Rect head = inner.cut_top(kHeadHeight);
  draw_head(ui, {head.x, head.y, width, head.h}, compact);
  if (compact) draw_narrowing(ui, {head.x + 8, head.y + 3, width * 0.68F, 27}, model, outcome);
  ui.line({inner.x, inner.y}, {inner.right(), inner.y}, Token::line);
  inner.cut_top(1);
  if (model.reading) return outcome;
  if (shown.empty()) {
    ui.text_in(Rect{inner}.cut_top(60).inset(16, 0), TextStyle::body, Token::ink2,
               model.rows.empty() ? std::string{"There are no cases here."}
               : model.search.empty()
                   ? std::string{"No cases under this heading."}
                   : fmt::format("No cases match “{}”. Clear the search.", model.search));
    return outcome;
  }
  const float up = ui.begin_scroll("rows", inner, all);
  // Of ten thousand rows those that are to be seen, and one above and below for Tab to go on to.
  const auto first = static_cast<std::size_t>(std::max(0.0F, std::floor(up / kRowHeight) - 1));
  const auto last = static_cast<std::size_t>(std::ceil((up + inner.h) / kRowHeight) + 1);
  for (std::size_t i = first; i < std::min(last, shown.size()); ++i) {
    const CaseRow& row = model.rows[shown[i]];
    const Rect place{inner.x, inner.y - up + static_cast<float>(i) * kRowHeight, width,
                     kRowHeight - 1};
    const bool chosen = model.chosen == shown[i];
    if (list_row(ui, place, fmt::format("case {}", shown[i]), who(row), chosen)) {
      if (chosen) {
        outcome.begin = shown[i];
      } else {
        outcome.choose = shown[i];
      }
    }
    const bool seen = place.bottom() > inner.y && place.y < inner.bottom();
    draw_row(ui, place, row, seen && model.find_picture ? model.find_picture(row) : 0, compact);
    ui.line({place.x, place.bottom()}, {place.right(), place.bottom()}, Token::line);
  }
  ui.end_scroll();
  return outcome;
}

void draw_bar(Ui& ui, const StudyLayout& layout, const CasesModel& model, CasesOutcome& outcome) {
  const StudyBarOutcome done = draw_study_bar(
      ui, layout, {StudyTab::cases, model.user, model.role, model.calibration, true});
  outcome.tab = done.tab;
  outcome.change_user = done.change_user;
  outcome.calibrate = done.aside;
}

/// How to practise, and the example, from the right; takes what it needs.
void draw_ways(Ui& ui, Rect& r, const CasesModel& model, const std::optional<std::size_t>& next,
               CasesOutcome& outcome) {
  const float modes = measure_one_of_few(ui, kPracticeModes);
  const bool exam_first = model.mode == kExamLikeMode && next && model.rows[*next].times_done == 0;
  const ButtonLook look{.available = next.has_value() && !exam_first,
                        .why_not = exam_first ? "Exam-like: after your own record is handed in."
                                              : "There is no case to show."};
  const Rect show = r.cut_right(measure_button(ui, "Show me", look));
  if (button(ui, show, "Show me", look) && next) outcome.show_me = next;
  r.cut_right(12);
  const Rect row = r.cut_right(std::min(r.w, modes));
  if (const auto pick = one_of_few(ui, {row.x, row.centre().y - 16, row.w, 32}, "mode",
                                   kPracticeModes, model.mode)) {
    outcome.mode = pick;
  }
}

}  // namespace

std::optional<std::size_t> find_next(const CasesModel& model) {
  std::optional<std::size_t> worst;
  for (std::size_t i = 0; i < model.rows.size(); ++i) {
    if (model.rows[i].times_done == 0) return i;
    if (!worst || model.rows[i].best.value_or(0) < model.rows[*worst].best.value_or(0)) worst = i;
  }
  return worst;
}

void draw_writing(Ui& ui, Rect& r, const std::optional<std::size_t>& next, CasesOutcome& outcome) {
  const ButtonLook look{.available = next.has_value(), .why_not = "There is no case to edit."};
  const float edit = measure_button(ui, "Edit", look);
  const float create = measure_button(ui, "New case");
  const float more = measure_button(ui, "More");
  constexpr float kGap = 6;
  if (edit + create + kGap > r.w) return;
  if (button(ui, r.cut_left(create), "New case")) outcome.create = true;
  r.cut_left(kGap);
  if (button(ui, r.cut_left(edit), "Edit", look) && next) outcome.edit = next;
  if (r.w < more + kGap) return;
  r.cut_left(kGap);
  if (button(ui, r.cut_left(more), "More")) outcome.supply = true;
}

void draw_next(Ui& ui, Rect inner, CasesModel& model, bool from_right, bool compact,
               CasesOutcome& outcome) {
  const std::optional<std::size_t> next = model.chosen ? model.chosen : find_next(model);
  constexpr float kTwoRows = 76;
  if (inner.h >= kTwoRows) {
    Rect ways = inner.cut_bottom(inner.h / 2);
    ways = ways.inset(0, (ways.h - 36) / 2);
    draw_ways(ui, ways, model, next, outcome);
    ways.cut_right(6);
    if (compact && model.writes) draw_writing(ui, ways, next, outcome);
  }
  const bool one_row = inner.h > 50;
  const ButtonLook look{.kind = ButtonKind::main};
  const Rect begin =
      Rect{inner.cut_right(measure_button(ui, "Begin", look))}.inset(0, (inner.h - 36) / 2);
  inner.cut_right(12);
  const ButtonLook shown{.kind = ButtonKind::main,
                         .available = next.has_value(),
                         .why_not = "There is no case to begin."};
  if (button(ui, begin, "Begin", shown) && next) outcome.begin = next;
  if (one_row) {
    Rect ways = inner.inset(0, (inner.h - 36) / 2);
    const float before = ways.w;
    draw_ways(ui, ways, model, next, outcome);
    inner.cut_right(before - ways.w + 16);
  }
  if (!next) return;
  const CaseRow& row = model.rows[*next];
  const std::string_view lead = model.chosen ? "Chosen:" : "Next:";
  const float first = ui.measure_text(TextStyle::body, lead);
  const float name = std::min(inner.w - first - 6, ui.measure_text(TextStyle::strong, who(row)));
  std::string rest = "– " + row.complaint;
  float more = ui.measure_text(TextStyle::body, rest);
  if (first + name + more + 12 > inner.w) {
    rest.clear();
    more = 0;
  }
  if (from_right) inner.cut_left(std::max(0.0F, inner.w - first - name - more - 12));
  ui.text_in(inner.cut_left(first), TextStyle::body, Token::ink2, lead);
  inner.cut_left(6);
  ui.text_in(inner.cut_left(name), TextStyle::strong, Token::ink, who(row));
  inner.cut_left(6);
  if (!rest.empty()) ui.text_in(inner, TextStyle::body, Token::ink2, rest);
}

CasesOutcome draw_cases(Ui& ui, const StudyLayout& layout, CasesModel& model) {
  CasesOutcome outcome;
  ui.go_to(Place::study);
  draw_bar(ui, layout, model, outcome);
  const Rect under{0, layout.bar.bottom(), layout.bar.w, ui.size().y - layout.bar.bottom()};
  ui.begin_region("cases", under, std::nullopt);  // the window was cleared to the page
  Rect body = layout.body;
  if (!model.trouble.empty()) {
    const Rect note = body.cut_top(layout.compact ? 22 : 30);
    icon(ui, Icon::caution, {note.x + 10, note.centre().y}, Token::care, 16);
    ui.paragraph({note.x + 26, note.y + 4, note.w - 26, 22}, TextStyle::body, Token::ink,
                 model.trouble);
    body.cut_top(6);
  }
  const bool any_step =
      model.reading || std::any_of(model.rows.begin(), model.rows.end(),
                                   [](const CaseRow& row) { return row.step > 0; });
  constexpr float kPathWidth = 1000;
  if (any_step && !layout.compact && body.w >= kPathWidth) {
    draw_path(ui, body.cut_top(186), model, outcome);
  } else {
    const Rect r = body.cut_top(layout.compact ? 84 : 96);
    sheet(ui, r);
    draw_next(ui, r.inset(layout.compact ? 12 : 20, 2), model, false, layout.compact, outcome);
  }
  body.cut_top(layout.compact ? 8 : 16);
  if (!layout.compact) {
    draw_sidebar(ui, body.cut_left(kSidebar), model, outcome);
    body.cut_left(layout.gutter);
  }
  const std::vector<std::size_t> shown = find_shown(model);
  const float needed =
      kHeadHeight + 3 + kRowHeight * static_cast<float>(std::max<std::size_t>(1, shown.size()));
  const CasesOutcome chosen =
      draw_table(ui, body.cut_top(std::min(body.h, needed)), model, shown, layout.compact);
  if (chosen.begin) outcome.begin = chosen.begin;
  if (chosen.choose) outcome.choose = chosen.choose;
  if (chosen.filter) outcome.filter = chosen.filter;
  ui.end_region();
  return outcome;
}

}  // namespace redress::screens
