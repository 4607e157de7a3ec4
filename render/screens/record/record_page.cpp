// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The whole card: every condition in a table, further tests, what does not agree, the card read
// back, and beside it impression, plan and how soon.
#include <algorithm>
#include <array>
#include <utility>

#include <fmt/format.h>

#include "render/screens/record/record_card.hpp"
#include "render/screens/record/record_reason.hpp"
#include "render/screens/record/record_rows.hpp"
#include "sim/basics/elementary.hpp"

namespace redress::screens::record {

using Words = std::string_view;

namespace {

constexpr float kGap = 16;
constexpr float kRow = 42;
constexpr float kHead = 30;

// ------------------------------------------------------------------------------- table of places

struct TableColumn {
  Words head;
  float share;
};
constexpr std::array<TableColumn, 6> kColumns{{{"Distance", 0.11F},
                                               {"Correction", 0.135F},
                                               {"Cover and uncover", 0.235F},
                                               {"Prism", 0.16F},
                                               {"Recovery", 0.12F},
                                               {"Shorthand", 0.24F}}};

const char* recovery_word(const Finding& f) {
  if (!f.recovery) return "";
  switch (*f.recovery) {
    case RecoveryGrade::rapid: return "Rapid";
    case RecoveryGrade::moderate: return "Moderate";
    case RecoveryGrade::slow: return "Slow";
    case RecoveryGrade::none: return "None";
  }
  return "";
}

// "10Δ in, 3Δ down R": the prism that neutralises.
std::string prism_words(const Finding& f) {
  std::string text;
  const auto size = [](double pd) {
    return findings::write_number(elementary::magnitude(pd)) + "Δ ";
  };
  if (f.horizontal_pd)
    text = size(*f.horizontal_pd) + (*f.horizontal_pd > 0 ? "base out" : "base in");
  if (f.vertical_pd && *f.vertical_pd != 0.0) {
    text += (text.empty() ? "" : ", ") + size(*f.vertical_pd) +
            (*f.vertical_pd > 0 ? "down R" : "down L");
  }
  return text;
}

// The class and its size alone: the read-back has the rest.
Finding plain_of(const Finding& f) {
  Finding plain;
  plain.test = f.test;
  plain.distance_m = f.distance_m;
  plain.spectacles = f.spectacles;
  plain.kind = f.kind;
  plain.constancy = f.constancy;
  plain.eye = f.eye;
  plain.horizontal_pd = f.horizontal_pd;
  plain.vertical_pd = f.vertical_pd;
  return plain;
}

std::string cover_words(const Finding& f) {
  return f.kind ? findings::write_words_bare(plain_of(f)) : "";
}

std::string shorthand_of(const Finding& f, findings::Tradition tradition) {
  Finding plain = plain_of(f);
  plain.method = f.method;
  plain.recovery = f.recovery;
  plain.comitant = f.comitant;
  return findings::write_shorthand_bare(plain, tradition);
}

struct TableRow {
  std::string cells[6];
};

TableRow make_row(const CardEditor& editor, const Condition& c) {
  TableRow row;
  row.cells[0] = findings::write_distance(c.distance_m);
  row.cells[1] = c.spectacles ? "cc" : "sc";
  const findings::RecordCard& card = editor.card();
  const auto* cover =
      findings::find_entry(card, FindingTest::cover_test, c.distance_m, c.spectacles);
  const auto* prism =
      findings::find_entry(card, FindingTest::prism_cover, c.distance_m, c.spectacles);
  for (int i = 2; i < 6; ++i) row.cells[i] = "–";
  if (cover != nullptr) {
    row.cells[2] = cover_words(cover->finding);
    if (cover->finding.recovery) row.cells[4] = recovery_word(cover->finding);
    row.cells[5] = shorthand_of(cover->finding, editor.tradition());
  }
  if (prism != nullptr) {
    row.cells[3] = prism_words(prism->finding);
    if (cover == nullptr) {
      row.cells[5] = shorthand_of(prism->finding, editor.tradition());
    }
  }
  return row;
}

TextStyle style_of(std::size_t column) {
  return column == 0 || column == 5 ? TextStyle::small_strong : TextStyle::small;
}

float draw_table(Ui& ui, Rect r, CardEditor& editor, RecordState& state) {
  // Long words take another line rather than being cut.
  std::vector<TableRow> rows;
  std::vector<float> heights;
  r.h = kHead;
  for (const Condition& c : editor.conditions()) {
    rows.push_back(make_row(editor, c));
    float lines = 0;
    for (std::size_t i = 0; i < kColumns.size(); ++i) {
      const float width = kColumns[i].share * (r.w - 20) - 8;
      lines = std::max(lines, ui.measure_paragraph(width, style_of(i), rows.back().cells[i]));
    }
    heights.push_back(std::max(kRow, lines + 16));
    r.h += heights.back();
  }
  sheet(ui, r);
  const auto cell = [&](std::size_t i, float y, float height) {
    float x = r.x + 14;
    for (std::size_t k = 0; k < i; ++k) x += kColumns[k].share * (r.w - 20);
    return Rect{x, y, kColumns[i].share * (r.w - 20) - 8, height};
  };
  for (std::size_t i = 0; i < kColumns.size(); ++i) {
    ui.text_in(cell(i, r.y, kHead), TextStyle::small, Token::ink2, kColumns[i].head);
  }
  if (button(ui, {r.right() - 32, r.y + 2, 28, 26}, "",
             {.icon = Icon::plus, .id = "add condition"})) {
    state.adding = !state.adding;
  }
  std::optional<Condition> chosen;
  float y = r.y + kHead;
  for (std::size_t k = 0; k < editor.conditions().size(); ++k) {
    const Condition& c = editor.conditions()[k];
    const std::string name = name_of(c);
    ui.line({r.x, y}, {r.right(), y}, Token::line);
    if (list_row(ui, {r.x + 1, y + 1, r.w - 2, heights[k] - 2}, "row " + name, name,
                 k == editor.current())) {
      chosen = c;
    }
    for (std::size_t i = 0; i < kColumns.size(); ++i) {
      const Rect at = cell(i, y, heights[k]);
      const float used = ui.measure_paragraph(at.w, style_of(i), rows[k].cells[i]);
      ui.paragraph({at.x, at.centre().y - used / 2, at.w, used}, style_of(i), Token::ink,
                   rows[k].cells[i]);
    }
    y += heights[k];
  }
  if (chosen) editor.choose(*chosen);
  if (!state.adding) return r.h;
  return r.h + 8 + draw_adding(ui, {r.right() - 280, r.bottom() + 8, 280, 30}, editor, state);
}

// ------------------------------------------------------------------------------------ further
// tests

// A sheet as high as its rows were in the last frame, with a title; returns its height.
template <class Rows>
float panel(Ui& ui, Rect r, Words title, RecordState& state, Rows rows, float label = 84) {
  float& height = state.panel_heights[std::string(title)];
  if (height <= 0) height = 60;
  r.h = height;
  sheet(ui, r);
  Rect inner = r.inset(14, 10);
  ui.text_in(inner.cut_top(24), TextStyle::strong, Token::ink, title);
  inner.cut_top(8);
  Column column{inner, label};
  rows(column);
  height = column.area.y - r.y + 5;
  return r.h;
}

// Two columns of panels, or one where there is no room for two.
float draw_further(Ui& ui, const Rect& r, CardEditor& editor, RecordState& state) {
  const bool narrow = r.w < 760;
  const float half = narrow ? r.w : (r.w - kGap) / 2;
  const Rect left{r.x, r.y, half, 0};
  float left_y = r.y;
  float right_y = r.y;
  const auto place = [&](bool to_left, Words title, auto rows, float label = 84) {
    float& y = narrow || to_left ? left_y : right_y;
    const float x = narrow || to_left ? left.x : left.x + half + kGap;
    y += panel(ui, {x, y, half, 0}, title, state, rows, label) + kGap;
  };
  place(true, "Cover and uncover", [&](Column& c) { draw_cover_rows(ui, c, editor); });
  place(true, "Prism and alternate cover",
        [&](Column& c) { draw_prism_rows(ui, c, editor, state); });
  place(
      true, "Reserves", [&](Column& c) { draw_reserve_rows(ui, c, editor); }, 70);
  place(
      true, "Near point", [&](Column& c) { draw_near_point_rows(ui, c, editor); }, 70);
  place(
      true, "Four-dioptre base-out", [&](Column& c) { draw_four_dioptre_rows(ui, c, editor); }, 30);
  place(true, "Control score and corneal reflexes", [&](Column& c) {
    draw_control_rows(ui, c, editor);
    draw_reflex_rows(ui, c, editor, state);
  });
  place(false, "Nine gazes and head tilt",
        [&](Column& c) { draw_gaze_rows(ui, c, editor, state); });
  place(false, "What moved", [&](Column& c) { draw_movement_rows(ui, c, editor); });
  place(false, "What else was seen", [&](Column& c) { draw_beside_rows(ui, c, editor, state); });
  return std::max(left_y, right_y) - kGap - r.y;
}

float draw_contradictions(Ui& ui, const Rect& r, CardEditor& editor) {
  float y = r.y;
  for (const findings::Contradiction& c : editor.contradictions()) {
    const std::string what = c.what + " Both can stand.";
    const float wide = r.w - 46 - 12 - 14 - measure_button(ui, "Keep both");
    const float lines = ui.measure_paragraph(wide, TextStyle::small, what);
    const Rect box{r.x, y, r.w, 42 + lines};
    sheet(ui, box);
    icon(ui, Icon::caution, {box.x + 24, box.centre().y}, Token::ink2, 20);
    const float keep = measure_button(ui, "Keep both");
    const Rect button_at{box.right() - 12 - keep, box.centre().y - 16, keep, 32};
    Rect words{box.x + 46, box.y + 9, wide, box.h - 18};
    ui.text_in(words.cut_top(22), TextStyle::strong, Token::ink, "What is written does not agree");
    ui.paragraph(words, TextStyle::small, Token::ink2, what);
    const std::string id = fmt::format("keep {} {}", c.at_ms, c.what);
    if (button(ui, button_at, "Keep both", {.id = id})) editor.keep_both(c);
    y += box.h + kGap;
  }
  return y - r.y;
}

// The card in one line of each tradition, the chosen one first to the eye.
float draw_read_back(Ui& ui, const Rect& r, const CardEditor& editor) {
  constexpr float kName = 66;
  const float width = r.w - 28 - kName;
  const bool empty = editor.card().entries.empty();
  std::array<std::string, std::size(kTraditions)> lines;
  std::array<float, std::size(kTraditions)> heights{};
  float height = 10 + 30 + 4;
  const auto style_of_line = [&](std::size_t i) {
    return i == static_cast<std::size_t>(editor.tradition()) ? TextStyle::strong : TextStyle::body;
  };
  for (std::size_t i = 0; i < lines.size(); ++i) {
    if (!empty) lines[i] = editor.read_back(static_cast<findings::Tradition>(i));
    heights[i] = std::max(22.0F, ui.measure_paragraph(width, style_of_line(i), lines[i]));
    if (!empty) height += heights[i] + 8;
  }
  if (empty) height += 30;
  const Rect box{r.x, r.y, r.w, height};
  sheet(ui, box);
  Rect inner = box.inset(14, 10);
  ui.text_in(inner.cut_top(24), TextStyle::strong, Token::ink, "Read back");
  inner.cut_top(6);
  if (empty) {
    ui.text_in(inner.cut_top(22), TextStyle::body, Token::ink3,
               "Nothing written yet. Start with a distance: 6 m.");
    return box.h;
  }
  for (std::size_t i = 0; i < lines.size(); ++i) {
    ui.text({inner.x, inner.y + 2}, TextStyle::small, Token::ink2, kTraditions[i]);
    ui.paragraph({inner.x + kName, inner.y, width, heights[i]}, style_of_line(i),
                 style_of_line(i) == TextStyle::strong ? Token::ink : Token::ink2, lines[i]);
    inner.cut_top(heights[i] + 8);
  }
  return box.h;
}

void draw_bar(Ui& ui, const StudyLayout& layout, Words who, CardEditor& editor,
              const std::string& clock, RecordOutcome& outcome) {
  ui.begin_region("record bar", layout.bar, Token::sheet);
  Rect r = layout.bar;
  ui.line({r.x, r.bottom() - 1}, {r.right(), r.bottom() - 1}, Token::line);
  r = r.inset(layout.compact ? 8 : 16, 8);
  const Words back = layout.compact ? Words("Back") : Words("Back to the patient");
  const ButtonLook look{.kind = ButtonKind::quiet, .key = "Esc", .icon = Icon::back};
  if (button(ui, r.cut_left(measure_button(ui, back, look)), back, look)) outcome.back = true;
  r.cut_left(16);
  const float clock_width = std::max(70.0F, ui.measure_figures(TextStyle::subhead, clock) + 2);
  ui.figures_in(r.cut_right(clock_width), TextStyle::subhead, Token::ink, clock, Align::right);
  r.cut_right(12);
  const float width = measure_one_of_few(ui, kTraditions);
  Rect choice = r.cut_right(width);
  choice = {choice.x, choice.centre().y - 15, choice.w, 30};
  if (const auto pick = one_of_few(ui, choice, "tradition", kTraditions,
                                   static_cast<std::size_t>(editor.tradition()))) {
    editor.use(static_cast<findings::Tradition>(*pick));
  }
  r.cut_right(8);
  if (!layout.compact) {
    ui.text_in(r.cut_right(70), TextStyle::small, Token::ink2, "Shorthand", Align::right);
  }
  ui.text_in(r.cut_left(ui.measure_text(TextStyle::strong, "Record") + 2), TextStyle::strong,
             Token::ink, "Record");
  r.cut_left(14);
  ui.text_in(r, TextStyle::body, Token::ink2, who);
  ui.end_region();
}

float draw_left(Ui& ui, Rect r, CardEditor& editor, RecordState& state) {
  const float top = r.y;
  r.h = 1e5F;
  r.cut_top(draw_line(ui, {r.x, r.y, r.w, 44 + 6 + 40}, editor, state, 44) + 10);
  r.cut_top(draw_table(ui, r, editor, state) + kGap);
  r.cut_top(draw_contradictions(ui, r, editor));
  r.cut_top(draw_further(ui, r, editor, state) + kGap);
  r.cut_top(draw_read_back(ui, r, editor));
  return r.y - top;
}

void draw_end(Ui& ui, Rect r, CardEditor& editor, RecordState& state, RecordOutcome& outcome) {
  const Rect finish = r.cut_right(measure_button(ui, state.finish) + 4);
  if (button(ui, finish, state.finish, {.kind = ButtonKind::main})) {
    settle_reason(editor, state);
    editor.settle_all();
    outcome.finish = true;
  }
  r.cut_right(10);
  const Rect back = r.cut_right(measure_button(ui, "Back to the patient"));
  if (back.w >= measure_button(ui, "Back to the patient") &&
      button(ui, back, "Back to the patient", {.id = "back"})) {
    outcome.back = true;
  }
}

}  // namespace

RecordOutcome draw_record_page(Ui& ui, const StudyLayout& layout, std::string_view who,
                               CardEditor& editor, RecordState& state, Tick now) {
  RecordOutcome outcome;
  draw_bar(ui, layout, who, editor, state.clock.empty() ? write_clock(now) : state.clock, outcome);
  Rect body = layout.body;
  constexpr float kSide = 488;
  constexpr float kEnd = 40;
  const auto scroll = [&](Words id, const Rect& area, float& height, auto draw) {
    const float up = ui.begin_scroll(id, area, height);
    const float bar = height > area.h ? 14 : 0;
    const float used = draw(Rect{area.x + 2, area.y + 2 - up, area.w - 4 - bar, area.h});
    ui.end_scroll();
    height = used + 6;
  };
  const auto left = [&](const Rect& r) { return draw_left(ui, r, editor, state); };
  const auto right = [&](const Rect& r) { return draw_reason(ui, r, editor, state); };

  ui.begin_region("record", body, Token::page);
  if (layout.narrow) {
    const Rect end = body.cut_bottom(kEnd);
    body.cut_bottom(8);
    scroll("all", body, state.page_height, [&](const Rect& r) {
      const float first = left(r);
      return first + kGap + right({r.x, r.y + first + kGap, r.w, r.h});
    });
    draw_end(ui, end, editor, state, outcome);
  } else {
    Rect side = body.cut_right(kSide);
    body.cut_right(layout.gutter);
    scroll("left", body, state.page_height, left);
    sheet(ui, side);
    side = side.inset(18, 16);
    const Rect end = side.cut_bottom(kEnd);
    side.cut_bottom(12);
    scroll("reason", side, state.side_height, right);
    draw_end(ui, end, editor, state, outcome);
  }
  ui.end_region();
  if (outcome.back) {
    settle_reason(editor, state);
    editor.settle();
  }
  outcome.notes = editor.take_settled(now);
  return outcome;
}

}  // namespace redress::screens::record
