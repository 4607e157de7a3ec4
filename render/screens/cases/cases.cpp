// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/screens/cases/cases.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

namespace redress::screens {

namespace {

constexpr float kRowHeight = 66;
constexpr float kHeadHeight = 32;
constexpr float kSidebar = 232;
constexpr int kGood = 75;  // "to do again" is below this, a step of the path is done from here

/// Lower case of Latin-1 and ASCII, enough to find a name.
std::string fold(std::string_view text) {
  std::string folded{text};
  for (char& c : folded) {
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
  }
  return folded;
}

/// `filter` is an index into kCaseFilters.
bool passes(const CaseRow& row, std::size_t filter) {
  if (filter == 1) return row.times_done == 0;
  if (filter == 2) return row.times_done > 0 && row.best.value_or(0) < kGood;
  if (filter == 3) return row.own;
  return true;
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
  ui.picture(r, row.picture, kRadiusKey);
}

void draw_row(Ui& ui, const Rect& r, const CaseRow& row, bool compact) {
  const Columns c = divide(r, compact);
  draw_picture(ui, c.picture, row);
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
  if (model.reading) return outcome;
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
    // Tab reaches every row; only those in view have anything to draw.
    if (place.bottom() < inner.y || place.y > inner.bottom()) continue;
    draw_row(ui, place, row, compact);
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

/// The patient that comes next: the first not done, else the one done worst.
std::optional<std::size_t> find_next(const CasesModel& model) {
  std::optional<std::size_t> worst;
  for (std::size_t i = 0; i < model.rows.size(); ++i) {
    if (model.rows[i].times_done == 0) return i;
    if (!worst || model.rows[i].best.value_or(0) < model.rows[*worst].best.value_or(0)) worst = i;
  }
  return worst;
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

/// For those who write cases; takes what it needs, if there is room.
void draw_writing(Ui& ui, Rect& r, const CasesModel& model, const std::optional<std::size_t>& next,
                  CasesOutcome& outcome) {
  const ButtonLook look{.available = next.has_value(), .why_not = "There is no case to edit."};
  const float edit = measure_button(ui, "Edit", look);
  const float create = measure_button(ui, "New case");
  if (edit + create + 8 > r.w) return;
  if (button(ui, r.cut_left(create), "New case")) outcome.create = true;
  r.cut_left(8);
  if (button(ui, r.cut_left(edit), "Edit", look) && next) outcome.edit = next;
  (void)model;
}

/// Who comes next, the way of practising and the button that begins. In two rows where one is too
/// short for them; then the search stands in the second.
void draw_next(Ui& ui, Rect inner, CasesModel& model, bool from_right, bool compact,
               CasesOutcome& outcome) {
  const std::optional<std::size_t> next = model.chosen ? model.chosen : find_next(model);
  constexpr float kTwoRows = 76;
  if (inner.h >= kTwoRows) {
    Rect ways = inner.cut_bottom(inner.h / 2);
    ways = ways.inset(0, (ways.h - 36) / 2);
    draw_ways(ui, ways, model, next, outcome);
    ways.cut_right(12);
    if (compact && model.writes) draw_writing(ui, ways, model, next, outcome);
    // There is no column at the left to search in.
    constexpr float kLeast = 110;
    if (compact && ways.w >= kLeast) {
      field(ui, Rect{ways.x, ways.y + 3, ways.w, 30}, "search", model.search, {.hint = "Search"});
    }
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

struct StepWords {
  std::string_view title;
  std::string_view words;
};
constexpr std::array<StepWords, kPathSteps> kSteps{{
    {"Hold still", "Fixation, occluder"},
    {"One eye alone", "Cover and uncover"},
    {"Which way", "Eso, exo, R/L, L/R"},
    {"How much", "Sizes 1Δ to 40Δ"},
    {"Latent or not", "Phoria and tropia"},
    {"With prism", "Neutral, reversal"},
    {"Comes and goes", "Control of a tropia"},
    {"Small, hidden", "Four-dioptre test"},
    {"Looking around", "Nine gazes"},
}};

void draw_step(Ui& ui, const Rect& cell, std::size_t index, const PathStep& step, bool here,
               bool done_before, const CasesModel& model, CasesOutcome& outcome) {
  constexpr float kRadius = 18;
  const Point middle{cell.centre().x, cell.y + kRadius + 2};
  const bool done = step.cases > 0 && step.firm == step.cases;
  // The way to it; full where the step before is done.
  if (index > 0) {
    ui.line({middle.x - cell.w + kRadius + 2, middle.y}, {middle.x - kRadius - 2, middle.y},
            done_before ? Token::act : Token::line, 2);
  }
  const Rect box{middle.x - kRadius - 4, cell.y - 2, 2 * kRadius + 8, 2 * kRadius + 8};
  const bool any = step.cases > 0 || model.reading;
  const Touch touch = ui.touch(fmt::format("step {}", index + 1), box, kSteps[index].title,
                               PartKind::button, step.cases > 0);
  if (touch.hovered && any) ui.disc(middle, kRadius, Token::well);
  if (touch.hovered && !any) ui.hint(box, "No case for this step yet.");
  if (touch.focused) ui.focus_ring(box, kRadius + 4);
  if (done) {
    ui.disc(middle, kRadius, Token::act);
    icon(ui, Icon::check, middle, Token::on_act, 18);
  } else {
    ui.ring(middle, kRadius,
            here  ? Token::act
            : any ? Token::edge
                  : Token::line,
            here ? 3.0F : 1.5F);
    const std::string number = fmt::format("{}", index + 1);
    ui.text_in({middle.x - 16, middle.y - 11, 32, 22},
               here ? TextStyle::strong : TextStyle::small_strong,
               here  ? Token::act
               : any ? Token::ink2
                     : Token::ink3,
               number, Align::centre);
  }
  float y = middle.y + kRadius + 10;
  ui.text_in({cell.x, y, cell.w, 20}, TextStyle::strong, any ? Token::ink : Token::ink2,
             kSteps[index].title, Align::centre);
  y += 21;
  ui.text_in({cell.x, y, cell.w, 18}, TextStyle::small, Token::ink2, kSteps[index].words,
             Align::centre);
  y += 19;
  if (here) {
    ui.text_in({cell.x, y, cell.w, 18}, TextStyle::small_strong, Token::act,
               fmt::format("you are here, {} of {}", step.firm, step.cases), Align::centre);
  } else if (!any) {
    ui.text_in({cell.x, y, cell.w, 18}, TextStyle::small, Token::ink3, "no case yet",
               Align::centre);
  }
  if (!touch.clicked) return;
  for (std::size_t i = 0; i < model.rows.size(); ++i) {
    if (model.rows[i].step != static_cast<int>(index) + 1) continue;
    outcome.choose = i;
    return;
  }
}

void draw_path(Ui& ui, const Rect& r, CasesModel& model, CasesOutcome& outcome) {
  sheet(ui, r);
  Rect inner = r.inset(20, 0);
  Rect head = inner.cut_top(56);
  ui.text_in(head.cut_left(120), TextStyle::subhead, Token::ink, "Your path");
  draw_next(ui, head, model, true, false, outcome);
  inner.cut_top(8);
  const std::array<PathStep, kPathSteps> path = find_path(model);
  const std::optional<std::size_t> here = find_here(path);
  const float width = inner.w / static_cast<float>(kPathSteps);
  bool before = false;
  for (std::size_t i = 0; i < kPathSteps; ++i) {
    draw_step(ui, {inner.x + width * static_cast<float>(i), inner.y, width, inner.h}, i, path[i],
              here == i, before, model, outcome);
    // A step that has no case stands in nobody's way.
    if (path[i].cases > 0) before = path[i].firm == path[i].cases;
  }
}

void draw_sidebar(Ui& ui, Rect r, CasesModel& model, CasesOutcome& outcome) {
  field(ui, r.cut_top(36), "search", model.search, {.hint = "Name, complaint or goal"});
  r.cut_top(12);
  ui.text_in(r.cut_top(18), TextStyle::small, Token::ink2, "Show");
  r.cut_top(6);
  for (std::size_t i = 0; i < std::size(kCaseFilters); ++i) {
    Rect row = r.cut_top(30);
    const bool on = model.filter == i;
    if (list_row(ui, row, kCaseFilters[i], kCaseFilters[i], on)) outcome.filter = i;
    row = row.inset(8, 0);
    const Rect count = row.cut_right(40);
    if (!model.reading) {
      const auto of_filter = [&](const CaseRow& each) { return passes(each, i); };
      ui.figures_in(
          count, TextStyle::small, Token::ink2,
          fmt::format("{}", std::count_if(model.rows.begin(), model.rows.end(), of_filter)),
          Align::right);
    }
    ui.text_in(row, on ? TextStyle::strong : TextStyle::body, on ? Token::ink : Token::ink2,
               kCaseFilters[i]);
  }
  r.cut_top(16);
  ui.line({r.x, r.y}, {r.right(), r.y}, Token::line);
  r.cut_top(12);
  if (model.writes) {
    ui.text_in(r.cut_top(18), TextStyle::small, Token::ink2, "Write");
    r.cut_top(6);
    Rect row = r.cut_top(36);
    draw_writing(ui, row, model, model.chosen ? model.chosen : find_next(model), outcome);
    r.cut_top(16);
  }
  ui.paragraph(r, TextStyle::small, Token::ink2,
               "What a patient has is told after the card is finished, beside what you wrote.");
}

}  // namespace

std::array<PathStep, kPathSteps> find_path(const CasesModel& model) {
  std::array<PathStep, kPathSteps> path{};
  for (const CaseRow& row : model.rows) {
    if (row.step < 1 || row.step > static_cast<int>(kPathSteps)) continue;
    PathStep& step = path[static_cast<std::size_t>(row.step - 1)];
    ++step.cases;
    if (row.times_done > 0 && row.best.value_or(0) >= kGood) ++step.firm;
  }
  return path;
}

std::optional<std::size_t> find_here(const std::array<PathStep, kPathSteps>& path) {
  for (std::size_t i = 0; i < path.size(); ++i) {
    if (path[i].firm < path[i].cases) return i;
  }
  return std::nullopt;
}

std::vector<std::size_t> find_shown(const CasesModel& model) {
  std::vector<std::size_t> shown;
  const std::string wanted = fold(model.search);
  for (std::size_t i = 0; i < model.rows.size(); ++i) {
    const CaseRow& row = model.rows[i];
    if (!passes(row, model.filter)) continue;
    if (wanted.empty() ||
        fold(row.name + " " + row.complaint + " " + row.goal).find(wanted) != std::string::npos) {
      shown.push_back(i);
    }
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
  ui.end_region();
  return outcome;
}

}  // namespace redress::screens
