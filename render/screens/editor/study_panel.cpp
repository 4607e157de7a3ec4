// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// What the engine makes of the draft: nine gazes, findings, what does not agree.
#include <algorithm>
#include <array>
#include <cmath>

#include <fmt/format.h>

#include "render/screens/editor/editor.hpp"
#include "sim/findings/shorthand.hpp"

namespace redress::screens::editor {

namespace {

constexpr double kDegPerRadian = 57.29577951308232;

double to_degrees_of(double pd) { return std::atan(pd / 100.0) * kDegPerRadian; }

/// "+8Δ", "−3Δ", "0Δ".
std::string write_pd(double pd) {
  const double shown = std::round(pd);
  if (shown == 0.0) return "0Δ";
  return fmt::format("{}{:.0f}Δ", shown > 0 ? "+" : "−", std::abs(shown));
}

std::string write_deviation(const truth::Condition& c) {
  if (c.cannot_fixate) return "does not fixate";
  std::string text = write_pd(c.horizontal_pd);
  if (std::abs(c.vertical_pd) >= 0.75) {
    text += fmt::format(", {} {:.0f}Δ", c.vertical_pd > 0 ? "R/L" : "L/R", std::abs(c.vertical_pd));
  }
  return text;
}

std::string write_deviation(const truth::Position& p) {
  truth::Condition c;
  c.cannot_fixate = p.cannot_fixate;
  c.horizontal_pd = p.horizontal_pd;
  c.vertical_pd = p.vertical_pd;
  return write_deviation(c);
}

std::string_view word_of(truth::Manifest manifest) {
  switch (manifest) {
    case truth::Manifest::intermittent: return "intermittent";
    case truth::Manifest::constant: return "constant";
    case truth::Manifest::none: break;
  }
  return "no";
}

std::string write_distance(double metres) {
  if (metres > 6.5) return "Far distance";
  if (metres >= 1.0) return fmt::format("{:g} m", metres);
  return fmt::format("{:.0f} cm", metres * 100.0);
}

/// One row for both fixing eyes.
struct Row {
  double distance_m;
  bool spectacles;
  const truth::Condition* right = nullptr;
  const truth::Condition* left = nullptr;
};
std::vector<Row> make_rows(const truth::Truth& truth) {
  std::vector<Row> rows;
  for (const truth::Condition& c : truth.conditions) {
    auto found = std::find_if(rows.begin(), rows.end(), [&](const Row& row) {
      return row.distance_m == c.distance_m && row.spectacles == c.spectacles;
    });
    if (found == rows.end()) {
      found = rows.insert(rows.end(), Row{c.distance_m, c.spectacles});
    }
    (c.fixing == Eye::right ? found->right : found->left) = &c;
  }
  return rows;
}

/// The four gazes that a record has, where they differ from straight ahead.
struct GazeRow {
  std::string_view words;
  double horizontal_deg;
  double vertical_deg;
};
constexpr std::array<GazeRow, 4> kGazes{
    {{"Gaze right", 25, 0}, {"Gaze left", -25, 0}, {"Gaze up", 0, 25}, {"Gaze down", 0, -25}}};

std::string write_gaze(const truth::Truth& truth, const GazeRow& row, Eye fixing) {
  for (const truth::Position& p : truth.gaze) {
    if (p.fixing == fixing && p.horizontal_deg == row.horizontal_deg &&
        p.vertical_deg == row.vertical_deg) {
      return write_deviation(p);
    }
  }
  return "";
}

/// As a good record would write it.
std::string write_row(const Row& row) {
  const truth::Condition* c = row.right != nullptr ? row.right : row.left;
  // The eye that deviates is measured while the other fixes.
  if (c->deviating_eye == truth::DeviatingEye::right && row.left != nullptr) c = row.left;
  if (c->cannot_fixate) return "";
  Finding finding;
  const double horizontal = std::round(c->horizontal_pd);
  const double vertical = std::round(c->vertical_pd);
  if (horizontal != 0.0) finding.horizontal_pd = horizontal;
  if (vertical != 0.0) finding.vertical_pd = vertical;
  if (horizontal == 0.0 && vertical == 0.0) {
    finding.kind = FindingKind::none;
  } else if (c->manifest == truth::Manifest::none) {
    finding.kind = FindingKind::phoria;
  } else {
    finding.kind = FindingKind::tropia;
    finding.constancy =
        c->manifest == truth::Manifest::constant ? Constancy::constant : Constancy::intermittent;
    finding.eye = c->deviating_eye == truth::DeviatingEye::right  ? FindingEye::right
                  : c->deviating_eye == truth::DeviatingEye::left ? FindingEye::left
                                                                  : FindingEye::alternating;
  }
  finding.distance_m = c->distance_m;
  return findings::write_shorthand_bare(finding, findings::Tradition::uk);
}

void draw_findings(Ui& ui, const Rect& r, const Study* study, Token ink, Token name_ink) {
  ui.begin_region("findings", r, Token::page);
  sheet(ui, r);
  Rect rest = r.inset(14, 8);
  constexpr float kWide = 600;  // there is room to write it as a record would
  using Shares = std::array<float, 6>;
  const Shares shares = r.w >= kWide ? Shares{0.19F, 0.1F, 0.18F, 0.18F, 0.15F, 0.2F}
                                     : Shares{0.24F, 0.14F, 0.22F, 0.22F, 0.18F, 0};
  constexpr std::array<std::string_view, 6> kHeads{"Computed",   "Glasses",  "Right fixes",
                                                   "Left fixes", "Manifest", "Shorthand"};
  const auto columns = [&](float y, TextStyle style, Token token, const auto& words) {
    float x = rest.x;
    for (std::size_t i = 0; i < shares.size() && shares[i] > 0; ++i) {
      const float w = (rest.w - 12) * shares[i];
      ui.text_in({x, y, w - 6, 22}, style, token, words[i]);
      x += w;
    }
  };
  columns(rest.y, TextStyle::small, Token::ink3, kHeads);
  rest.cut_top(26);
  ui.line({rest.x, rest.y - 2}, {rest.right(), rest.y - 2}, Token::line);
  if (study == nullptr) {
    ui.text_in({rest.x, rest.y, rest.w, 22}, TextStyle::body, Token::ink3, "Nothing computed yet.");
    ui.end_region();
    return;
  }
  const std::vector<Row> rows = make_rows(study->truth);
  constexpr float kHigh = 26;
  const std::string called = fmt::format("These findings are called: {}.", study->truth.diagnosis);
  const float words = ui.measure_paragraph(rest.w - 12, TextStyle::small, called);
  const std::size_t gazes = study->truth.comitant ? 0 : kGazes.size();
  const float content = kHigh * static_cast<float>(rows.size() + gazes) + words + 12;
  const float up = ui.begin_scroll("findings", rest, content);
  float y = rest.y - up;
  for (const Row& row : rows) {
    const truth::Condition& any = row.right != nullptr ? *row.right : *row.left;
    const std::array<std::string, 6> cells{write_distance(row.distance_m),
                                           row.spectacles ? "on" : "off",
                                           row.right != nullptr ? write_deviation(*row.right) : "",
                                           row.left != nullptr ? write_deviation(*row.left) : "",
                                           std::string{word_of(any.manifest)},
                                           write_row(row)};
    columns(y, TextStyle::small, ink, cells);
    y += kHigh;
  }
  for (std::size_t i = 0; i < gazes; ++i) {
    const std::array<std::string, 6> cells{std::string{kGazes[i].words},
                                           "",
                                           write_gaze(study->truth, kGazes[i], Eye::right),
                                           write_gaze(study->truth, kGazes[i], Eye::left),
                                           "",
                                           ""};
    columns(y, TextStyle::small, ink, cells);
    y += kHigh;
  }
  ui.paragraph({rest.x, y + 6, rest.w - 12, words}, TextStyle::small, name_ink, called);
  ui.end_scroll();
  ui.end_region();
}

/// Where the other eye points, in each of nine positions: lattice and dots; + where the target is.
void draw_chart(Ui& ui, const Rect& r, const truth::Truth& truth, Eye fixing, bool faded) {
  const Token token = faded                  ? Token::ink3
                      : fixing == Eye::right ? Token::left_eye
                                             : Token::right_eye;
  Rect rest = r;
  const Rect head = rest.cut_top(20);
  ui.text_in(head, TextStyle::small_strong, Token::ink,
             fixing == Eye::right ? "Right eye fixes" : "Left eye fixes");
  const Rect foot = rest.cut_bottom(18);
  ui.text_in(foot, TextStyle::small, Token::ink3, "right");
  ui.text_in(foot, TextStyle::small, Token::ink3, "left", Align::right);
  const float half = std::min(rest.w, rest.h) / 2 - 4;
  constexpr double kShownDeg = 40;
  const Point centre = rest.centre();
  // As one faces the patient: their right is at the left.
  const auto place = [&](double horizontal_deg, double vertical_deg) {
    const double limit = kShownDeg;
    const double h = std::clamp(horizontal_deg, -limit, limit);
    const double v = std::clamp(vertical_deg, -limit, limit);
    return Point{centre.x - half * static_cast<float>(h / kShownDeg),
                 centre.y - half * static_cast<float>(v / kShownDeg)};
  };
  std::array<std::optional<Point>, 9> at;
  for (const truth::Position& p : truth.gaze) {
    if (p.fixing != fixing || p.cannot_fixate) continue;
    const double side = fixing == Eye::right ? 1.0 : -1.0;
    const Point target = place(p.horizontal_deg, p.vertical_deg);
    ui.line({target.x - 4, target.y}, {target.x + 4, target.y}, Token::ink3);
    ui.line({target.x, target.y - 4}, {target.x, target.y + 4}, Token::ink3);
    const auto index = [](double deg) { return deg > 1.0 ? 2 : deg < -1.0 ? 0 : 1; };
    // Eso +: the left eye points more to the right than the right eye does; right eye higher +.
    at[static_cast<std::size_t>(index(p.vertical_deg) * 3 + index(p.horizontal_deg))] =
        place(p.horizontal_deg + side * to_degrees_of(p.horizontal_pd),
              p.vertical_deg - side * to_degrees_of(p.vertical_pd));
  }
  for (std::size_t row = 0; row < 3; ++row) {
    for (std::size_t column = 0; column < 3; ++column) {
      const auto& here = at[row * 3 + column];
      if (!here) continue;
      if (column < 2 && at[row * 3 + column + 1])
        ui.line(*here, *at[row * 3 + column + 1], token, 2);
      if (row < 2 && at[(row + 1) * 3 + column])
        ui.line(*here, *at[(row + 1) * 3 + column], token, 2);
      ui.fill({here->x - 3, here->y - 3, 6, 6}, token, 3);
    }
  }
}

void draw_gazes(Ui& ui, const Rect& r, const Study* study, bool faded) {
  ui.begin_region("gazes", r, Token::page);
  sheet(ui, r);
  Rect rest = r.inset(14, 8);
  if (study == nullptr || study->truth.gaze.empty()) {
    ui.text_in(rest, TextStyle::small, Token::ink3, "Nine gazes, when they are computed.");
  } else {
    Rect left = rest.cut_left(std::floor(rest.w / 2) - 8);
    rest.cut_left(16);
    draw_chart(ui, left, study->truth, Eye::right, faded);
    draw_chart(ui, rest, study->truth, Eye::left, faded);
  }
  ui.end_region();
}

/// One line of advice; care is wrong, ink is to be looked at. Returns the height used.
float draw_advice_line(Ui& ui, const Rect& area, float y, std::string_view words, Token token) {
  icon(ui, Icon::caution, {area.x + 8, y + 9}, token, 15);
  return ui.paragraph({area.x + 24, y, area.w - 36, 400}, TextStyle::small, token, words) + 8;
}

std::optional<EditorOrder> draw_advice(Ui& ui, const Rect& r, const EditorModel& model,
                                       EditorState& state) {
  std::optional<EditorOrder> order;
  ui.begin_region("advice", r, Token::page);
  sheet(ui, r);
  Rect rest = r.inset(14, 8);
  const Problems none;
  const Problems& problems = model.draft.content().ok() ? none : model.draft.content().problems();
  const Study* study = model.study;
  const std::size_t count =
      problems.size() +
      (study == nullptr ? 0 : study->disagreements.size() + study->warnings.size());
  Rect head = rest.cut_top(26);
  ui.text_in(head, TextStyle::strong, Token::ink,
             model.computing ? "Does not agree (computing)" : "Does not agree");
  ui.text_in(head, TextStyle::strong, Token::ink2, std::to_string(count), Align::right);
  if (model.asks_whose || !model.trouble.empty()) {
    rest.y += draw_advice_line(ui, rest, rest.y, model.trouble, Token::care);
    if (model.asks_whose) {
      Rect row = rest.cut_top(36);
      const float mine = measure_button(ui, "Keep mine");
      if (button(ui, row.cut_left(mine), "Keep mine")) order = EditorOrder::keep_mine;
      row.cut_left(8);
      if (button(ui, row.cut_left(measure_button(ui, "Take theirs")), "Take theirs")) {
        order = EditorOrder::take_theirs;
      }
      rest.cut_top(6);
    }
    rest.h = std::max(0.0F, r.bottom() - 8 - rest.y);
  }
  // The one thing that the computed name can settle (sim/program/explain_case.cpp).
  const bool name_differs =
      study != nullptr &&
      std::any_of(study->disagreements.begin(), study->disagreements.end(),
                  [](const std::string& line) { return line.starts_with("expected is"); });
  float content = 8;
  const float width = rest.w - 36;
  const auto measured = [&](std::string_view words) {
    return ui.measure_paragraph(width, TextStyle::small, words) + 8;
  };
  for (const Problem& p : problems) content += measured(p.place + " " + p.message) + 2;
  if (study != nullptr) {
    for (const std::string& line : study->disagreements) content += measured(line);
    for (const std::string& line : study->warnings) content += measured(line);
    if (name_differs) content += 46;
  }
  const float up = ui.begin_scroll("advice", rest, content);
  float y = rest.y - up;
  for (const Problem& p : problems) {
    y += draw_advice_line(ui, rest, y, p.place + " " + p.message, Token::care);
  }
  if (study != nullptr) {
    for (const std::string& line : study->disagreements) {
      y += draw_advice_line(ui, rest, y, line, Token::care);
    }
    if (name_differs) {
      Rect row{rest.x + 24, y, rest.w - 36, 34};
      if (button(ui, row.cut_left(measure_button(ui, "Go to Expected")), "Go to Expected")) {
        state.section = Section::expected;
        state.typed.clear();
      }
      row.cut_left(8);
      const float take = measure_button(ui, "Take the computed");
      if (row.w >= take && button(ui, row.cut_left(take), "Take the computed")) {
        order = EditorOrder::take_computed;
      }
      y += 46;
    }
    for (const std::string& line : study->warnings) {
      y += draw_advice_line(ui, rest, y, line, Token::ink);
    }
  }
  if (count == 0) {
    ui.text_in({rest.x, y, rest.w, 22}, TextStyle::body, Token::ink2,
               study == nullptr ? "Computing …" : "Nothing.");
  }
  ui.end_scroll();
  ui.end_region();
  return order;
}

void draw_traces(Ui& ui, const Rect& r, const Study* study, bool faded) {
  ui.begin_region("traces", r, Token::page);
  sheet(ui, r);
  Rect rest = r.inset(14, 8);
  const Rect head = rest.cut_top(22);
  ui.text_in(head, TextStyle::strong, Token::ink, "A standard examination, 6 m");
  constexpr std::string_view kWhat = "horizontal; cover right, cover left, alternate";
  if (ui.measure_text(TextStyle::strong, "A standard examination, 6 m") + 16 +
          ui.measure_text(TextStyle::small, kWhat) <
      head.w) {
    ui.text_in(head, TextStyle::small, Token::ink2, kWhat, Align::right);
  }
  if (study == nullptr || study->traces.right_pd.empty()) {
    ui.end_region();
    return;
  }
  const StandardTraces& t = study->traces;
  float most = 6;
  for (const auto* values : {&t.right_pd, &t.left_pd}) {
    for (const float value : *values) {
      if (std::isfinite(value)) most = std::max(most, std::abs(value) * 1.2F);
    }
  }
  const double shown = std::ceil(static_cast<double>(most) / 3) * 3;
  rest.cut_top(6);
  rest.cut_left(100);
  const TimeAxis axis{0, StandardTraces::kStepMs * static_cast<double>(t.right_pd.size()), rest.x,
                      rest.w};
  const float high = (rest.h - 8 - 18) / 2;
  const double tick = std::round(shown * 2 / 3);
  lane(ui, rest.cut_top(high), axis, {t.right_pd, 0, StandardTraces::kStepMs}, t.right_covered,
       {"Right eye", faded ? Token::ink3 : Token::right_eye, shown, tick});
  rest.cut_top(8);
  lane(ui, rest.cut_top(high), axis, {t.left_pd, 0, StandardTraces::kStepMs}, t.left_covered,
       {"Left eye", faded ? Token::ink3 : Token::left_eye, shown, tick});
  time_ticks(ui, rest, axis);
  ui.end_region();
}

/// On the patient's picture.
void draw_caption(Ui& ui, const Rect& picture) {
  constexpr std::string_view kWords = "Live, looking at 6 m";
  const float width = ui.measure_text(TextStyle::small, kWords) + 16;
  if (width > picture.w - 16) return;
  const Rect r{picture.x + 8, picture.bottom() - 32, width, 24};
  ui.begin_region("live", r, std::nullopt);
  ui.fill(r, Token::sheet, kRadiusKey);
  ui.text_in(r.inset(8, 0), TextStyle::small, Token::ink, kWords);
  ui.end_region();
}

}  // namespace

std::optional<EditorOrder> draw_study(Ui& ui, const EditorLayout& layout, const EditorModel& model,
                                      EditorState& state) {
  const bool faded = model.study == nullptr || model.study->revision != model.draft.revision();
  if (!layout.gazes.empty()) draw_gazes(ui, layout.gazes, model.study, faded);
  const bool rest_faded = faded || !model.study->is_whole();
  draw_findings(ui, layout.findings, model.study, faded ? Token::ink3 : Token::ink,
                rest_faded ? Token::ink3 : Token::ink);
  if (!layout.traces.empty()) draw_traces(ui, layout.traces, model.study, rest_faded);
  if (!layout.picture.empty()) draw_caption(ui, layout.picture);
  return draw_advice(ui, layout.advice, model, state);
}

}  // namespace redress::screens::editor
