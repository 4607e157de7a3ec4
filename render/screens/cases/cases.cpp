// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/screens/cases/cases.hpp"

#include <fmt/format.h>
#include <imgui.h>

#include <algorithm>
#include <array>
#include <cmath>

namespace redress::screens {

namespace {

constexpr float kRowHeight = 60;
constexpr float kHeadHeight = 32;
constexpr float kSidebar = 232;

/// Lower case of Latin-1 and ASCII, enough to find a name.
std::string fold(std::string_view text) {
  std::string folded{text};
  for (char& c : folded) {
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
  }
  return folded;
}

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

void draw_picture(Ui& ui, const Rect& cell, const CaseRow& row) {
  const float height = std::min(cell.h - 12, cell.w / 2.8F);
  const Rect r{cell.x, cell.centre().y - height / 2, cell.w, height};
  ui.fill(r, Token::surround, kRadiusKey);
  if (row.picture == 0) return;
  ui.draw_list().AddImageRounded(
      reinterpret_cast<ImTextureID>(row.picture),  // NOLINT(performance-no-int-to-ptr)
      ui.to_pixels(Point{r.x, r.y}), ui.to_pixels(Point{r.right(), r.bottom()}), {0, 1}, {1, 0},
      IM_COL32_WHITE, ui.to_pixels(kRadiusKey));
}

void draw_row(Ui& ui, const Rect& r, const CaseRow& row, bool compact) {
  const Columns c = divide(r, compact);
  draw_picture(ui, c.picture, row);
  Rect words = c.patient.inset(0, (r.h - 40) / 2);
  ui.text_in(words.cut_top(22), TextStyle::strong, Token::ink, who(row));
  // A complaint may be long: it is shortened on purpose, the whole one stands in the story.
  ui.push_clip(words);
  ui.text_in(words, TextStyle::small, Token::ink2, row.complaint);
  ui.pop_clip();
  if (!c.goal.empty()) {
    ui.text_in(c.goal, TextStyle::body, Token::ink,
               row.goal.empty() ? "From beginning to end" : row.goal);
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
  head({c.picture.x, r.y, c.picture.w, r.h}, "Patient");
  head(c.goal, "What you will practise");
  head(c.level, "Level");
  head(c.done, "Done");
  head(c.best, "Best", Align::right);
  if (!c.last.empty()) head({c.last.x + 16, r.y, c.last.w - 16, r.h}, "Last");
}

CasesOutcome draw_table(Ui& ui, const Rect& r, CasesModel& model,
                        const std::vector<std::size_t>& shown, bool compact) {
  CasesOutcome outcome;
  sheet(ui, r);
  Rect inner = r.inset(1);
  draw_head(ui, inner.cut_top(kHeadHeight), compact);
  ui.line({inner.x, inner.y}, {inner.right(), inner.y}, Token::line);
  inner.cut_top(1);
  if (shown.empty()) {
    ui.text_in(Rect{inner}.cut_top(60).inset(16, 0), TextStyle::body, Token::ink2,
               model.rows.empty() ? std::string{"There are no cases here."}
               : model.search.empty()
                   ? std::string{"No cases under this heading."}
                   : fmt::format("No cases match “{}”. Clear the search.", model.search));
    return outcome;
  }
  const float all = static_cast<float>(shown.size()) * kRowHeight;
  const float up = ui.begin_scroll("rows", inner, all);
  const float width = all > inner.h ? inner.w - 8 : inner.w;
  for (std::size_t i = 0; i < shown.size(); ++i) {
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
    draw_row(ui, place, row, compact);
    ui.line({place.x, place.bottom()}, {place.right(), place.bottom()}, Token::line);
  }
  ui.end_scroll();
  return outcome;
}

void draw_bar(Ui& ui, const StudyLayout& layout, const CasesModel& model, CasesOutcome& outcome) {
  ui.begin_region("bar", layout.bar, Token::sheet);
  const Rect& bar = layout.bar;
  ui.line({bar.x, bar.bottom() - 1}, {bar.right(), bar.bottom() - 1}, Token::line);
  Rect r = bar.inset(layout.compact ? 12 : 20, 0);
  const float name = ui.measure_text(TextStyle::subhead, "Redress");
  ui.text_in(r.cut_left(name), TextStyle::subhead, Token::ink, "Redress");
  r.cut_left(16);
  ui.line({r.x, r.centre().y - 12}, {r.x, r.centre().y + 12}, Token::line);
  r.cut_left(12);
  constexpr std::array<std::string_view, 1> kScreens{"Cases"};
  tabs(ui, r, "screens", kScreens, 0);
  r.cut_left(measure_tabs(ui, kScreens) + 12);

  const std::string user = model.user.empty() ? "No name given" : model.user;
  const float wide = ui.measure_text(TextStyle::strong, user) + 8 +
                     ui.measure_text(TextStyle::body, model.role) + 16;
  const Rect me = Rect{r.cut_right(std::min(wide, r.w))}.inset(0, 8);
  const Touch touch = ui.touch("user", me, user, PartKind::button);
  if (touch.hovered) ui.fill(me, Token::well, kRadiusButton);
  if (touch.focused) ui.focus_ring(me, kRadiusButton);
  outcome.change_user = touch.clicked;
  Rect words = me.inset(6, 0);
  const float role = ui.measure_text(TextStyle::body, model.role);
  ui.text_in(words.cut_right(role), TextStyle::body, Token::ink2, model.role);
  words.cut_right(8);
  ui.text_in(words, TextStyle::strong, Token::ink, user);
  if (!layout.compact) {
    r.cut_right(12);
    ui.line({r.right(), r.centre().y - 12}, {r.right(), r.centre().y + 12}, Token::line);
    r.cut_right(4);
    const float size = ui.measure_text(TextStyle::small, model.calibration) + 20;
    const Rect known = Rect{r.cut_right(std::min(size, r.w))}.inset(0, 10);
    const Touch measure = ui.touch("calibration", known, model.calibration, PartKind::button);
    if (measure.hovered) ui.fill(known, Token::well, kRadiusButton);
    if (measure.focused) ui.focus_ring(known, kRadiusButton);
    ui.text_in(known.inset(6, 0), TextStyle::small, Token::ink2, model.calibration, Align::right);
    outcome.calibrate = measure.clicked;
  }
  ui.end_region();
}

/// The patient that comes next: the first not done, else the one done worst.
std::optional<std::size_t> find_next(const CasesModel& model) {
  std::optional<std::size_t> worst;
  for (std::size_t i = 0; i < model.rows.size(); ++i) {
    if (model.rows[i].times_done == 0) return i;
    if (!worst || model.rows[i].best.value_or(0) < model.rows[*worst].best.value_or(0)) worst = i;
  }
  return worst;
}

void draw_next(Ui& ui, const Rect& r, const CasesModel& model, CasesOutcome& outcome) {
  sheet(ui, r);
  Rect inner = r.inset(r.h > 56 ? 20 : 12, 0);
  const ButtonLook look{.kind = ButtonKind::main};
  const Rect begin =
      Rect{inner.cut_right(measure_button(ui, "Begin", look))}.inset(0, (r.h - 36) / 2);
  inner.cut_right(16);
  const std::optional<std::size_t> next = model.chosen ? model.chosen : find_next(model);
  const ButtonLook shown{.kind = ButtonKind::main,
                         .available = next.has_value(),
                         .why_not = "There is no case to begin."};
  if (button(ui, begin, "Begin", shown) && next) outcome.begin = next;
  if (!next) return;
  const CaseRow& row = model.rows[*next];
  const std::string_view lead = model.chosen ? "Chosen:" : "Next:";
  const float first = ui.measure_text(TextStyle::body, lead);
  ui.text_in(inner.cut_left(first), TextStyle::body, Token::ink2, lead);
  inner.cut_left(6);
  const float name = std::min(inner.w, ui.measure_text(TextStyle::strong, who(row)));
  ui.text_in(inner.cut_left(name), TextStyle::strong, Token::ink, who(row));
  const std::string rest = "– " + row.complaint;
  inner.cut_left(6);
  if (ui.measure_text(TextStyle::body, rest) <= inner.w) {
    ui.text_in(inner, TextStyle::body, Token::ink2, rest);
  }
}

void draw_sidebar(Ui& ui, Rect r, CasesModel& model, CasesOutcome& outcome) {
  field(ui, r.cut_top(36), "search", model.search, {.hint = "Name, complaint or goal"});
  r.cut_top(12);
  ui.text_in(r.cut_top(18), TextStyle::small, Token::ink2, "Show");
  r.cut_top(6);
  for (std::size_t i = 0; i < std::size(kCaseFilters); ++i) {
    Rect row = r.cut_top(30);
    CasesModel counted = model;
    counted.filter = i;
    counted.search.clear();
    const bool on = model.filter == i;
    if (list_row(ui, row, kCaseFilters[i], kCaseFilters[i], on)) outcome.filter = i;
    row = row.inset(8, 0);
    ui.figures_in(row.cut_right(40), TextStyle::small, Token::ink2,
                  fmt::format("{}", find_shown(counted).size()), Align::right);
    ui.text_in(row, on ? TextStyle::strong : TextStyle::body, on ? Token::ink : Token::ink2,
               kCaseFilters[i]);
  }
  r.cut_top(16);
  ui.line({r.x, r.y}, {r.right(), r.y}, Token::line);
  r.cut_top(12);
  ui.paragraph(r, TextStyle::small, Token::ink2,
               "What a patient has is told after the card is finished, beside what you wrote.");
}

}  // namespace

std::vector<std::size_t> find_shown(const CasesModel& model) {
  std::vector<std::size_t> shown;
  const std::string wanted = fold(model.search);
  constexpr int kGood = 75;  // "to do again" is below this
  for (std::size_t i = 0; i < model.rows.size(); ++i) {
    const CaseRow& row = model.rows[i];
    if (model.filter == 1 && row.times_done > 0) continue;
    if (model.filter == 2 && (row.times_done == 0 || row.best.value_or(0) >= kGood)) continue;
    const std::string all = fold(row.name + " " + row.complaint + " " + row.goal);
    if (wanted.empty() || all.find(wanted) != std::string::npos) shown.push_back(i);
  }
  return shown;
}

CasesOutcome draw_cases(Ui& ui, const StudyLayout& layout, CasesModel& model) {
  CasesOutcome outcome;
  ui.go_to(Place::study);
  draw_bar(ui, layout, model, outcome);
  const Rect under{0, layout.bar.bottom(), layout.bar.w, ui.size().y - layout.bar.bottom()};
  ui.begin_region("cases", under, Token::page);
  Rect body = layout.body;
  if (!model.trouble.empty()) {
    const Rect note = body.cut_top(layout.compact ? 22 : 30);
    icon(ui, Icon::caution, {note.x + 10, note.centre().y}, Token::care, 16);
    ui.paragraph({note.x + 26, note.y + 4, note.w - 26, 22}, TextStyle::body, Token::ink,
                 model.trouble);
    body.cut_top(6);
  }
  draw_next(ui, body.cut_top(layout.compact ? 48 : 72), model, outcome);
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
  outcome.choose = chosen.choose;
  ui.end_region();
  return outcome;
}

}  // namespace redress::screens
