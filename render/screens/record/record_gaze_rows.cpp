// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Nine gazes and two tilts of the head, for either eye fixing: a grid as one faces the patient, and
// the size in the place that is chosen. Angles: practice B18 and the contract.
#include <array>
#include <string>

#include <fmt/format.h>

#include "render/screens/record/record_rows.hpp"
#include "sim/findings/shorthand_beside.hpp"

namespace redress::screens::record {

using Words = std::string_view;

namespace {

constexpr float kCellHeight = 30;
constexpr float kCellGap = 4;

Finding make_key(const CardEditor& editor, const GazePlace& place) {
  Finding f = editor.make_empty(FindingTest::gaze);
  f.fixing = place.fixing;
  if (place.tilt != 0) {
    f.head_roll_deg = place.tilt * findings::kUsualTiltDeg;
    return f;
  }
  f.gaze_horizontal_deg = place.across * findings::kUsualGazeDeg;
  f.gaze_vertical_deg = place.up * findings::kUsualGazeDeg;
  return f;
}

// "28 eso R/L 8", without the place.
std::string write_cell(const Finding& f) {
  if (f.kind == FindingKind::none) return "NMD";
  std::string text;
  const auto add = [&text](double pd, const char* plus, const char* minus) {
    if (pd == 0.0) return;
    text += (text.empty() ? "" : " ") + findings::write_number(pd < 0.0 ? -pd : pd) +
            (pd > 0.0 ? plus : minus);
  };
  add(f.horizontal_pd.value_or(0.0), " eso", " exo");
  add(f.vertical_pd.value_or(0.0), " R/L", " L/R");
  if (text.empty() && (f.horizontal_pd || f.vertical_pd)) return "0";
  return text;
}

const char* name_of_place(const GazePlace& p) {
  constexpr const char* kNames[3][3] = {{"Down left", "Down", "Down right"},
                                        {"Left", "Primary", "Right"},
                                        {"Up left", "Up", "Up right"}};
  if (p.tilt != 0) return p.tilt > 0 ? "Tilt right" : "Tilt left";
  return kNames[p.up + 1][p.across + 1];
}

std::string id_of(const GazePlace& p) { return std::string("gaze ") + name_of_place(p); }

// One place of the grid: what is written there, else its name. Arrows go to its neighbours.
void draw_cell(Ui& ui, const Rect& r, const GazePlace& place, const CardEditor& editor,
               RecordState& state) {
  const bool on = state.gaze == place;
  const std::string size = write_cell(editor.find(make_key(editor, place)));
  const Touch touch = ui.touch(id_of(place), r, name_of_place(place), PartKind::choice);
  ui.fill(r, on ? Token::chosen : touch.hovered ? Token::well : Token::sheet, kRadiusButton);
  ui.outline(r, on ? Token::act : Token::edge, 1, kRadiusButton);
  if (on) ui.fill({r.x + 4, r.bottom() - 3, r.w - 8, 2}, Token::act);
  if (touch.focused) ui.focus_ring(r, kRadiusButton);
  const bool written = !size.empty();
  ui.text_in(r.inset(4, 0), written ? TextStyle::small_strong : TextStyle::small,
             written || on ? Token::ink : Token::ink2, written ? size : name_of_place(place),
             Align::centre);
  if (touch.clicked) {
    state.gaze = place;
    state.gaze_ways = {};
  }
  // The patient's right is at the left.
  GazePlace next = place;
  if (place.tilt == 0) {
    if (touch.left_key && place.across < 1) ++next.across;
    if (touch.right_key && place.across > -1) --next.across;
    if (touch.up_key && place.up < 1) ++next.up;
    if (touch.down_key && place.up > -1) --next.up;
  } else if (touch.left_key || touch.right_key) {
    next.tilt = -next.tilt;
  }
  if (next == place) return;
  state.gaze = next;
  state.gaze_ways = {};
  ui.focus(ui.full_id(id_of(next)));
}

}  // namespace

void draw_comitance_row(Ui& ui, Column& column, CardEditor& editor) {
  static constexpr Words kSame[] = {"Comitant", "Incomitant"};
  Finding f = editor.find(FindingTest::cover_test);
  std::optional<std::size_t> chosen;
  if (f.comitant) chosen = *f.comitant ? 0 : 1;
  const Rect r = column.row(ui, "Nine gazes");
  if (const auto pick = one_of_few(ui, {r.x, r.y, 0, r.h}, "gazes", kSame, chosen)) {
    f.comitant = *pick == 0;
    editor.edit(f);
  }
}

void draw_gaze_rows(Ui& ui, Column& column, CardEditor& editor, RecordState& state) {
  draw_comitance_row(ui, column, editor);
  static constexpr Words kFixing[] = {"Not said", "Right", "Left"};
  std::size_t fixing = 0;
  if (state.gaze.fixing) fixing = *state.gaze.fixing == FindingEye::right ? 1 : 2;
  const Rect by = column.row(ui, "Fixing eye");
  if (const auto pick = one_of_few(ui, {by.x, by.y, 0, by.h}, "gaze fixing", kFixing, fixing)) {
    state.gaze.fixing.reset();
    if (*pick > 0) state.gaze.fixing = *pick == 1 ? FindingEye::right : FindingEye::left;
    state.gaze_ways = {};
  }

  const float width = (column.area.w - 2 * kCellGap) / 3;
  const auto cell = [&](int col, float y, const GazePlace& place) {
    const float x = column.area.x + static_cast<float>(col) * (width + kCellGap);
    draw_cell(ui, {x, y, width, kCellHeight}, place, editor, state);
  };
  const Rect sides{column.area.x, column.area.y, column.area.w, 18};
  ui.text_in(sides, TextStyle::small, Token::ink2, "patient’s right");
  ui.text_in(sides, TextStyle::small, Token::ink2, "patient’s left", Align::right);
  column.gap(20);
  for (int up = 1; up >= -1; --up) {
    for (int across = 1; across >= -1; --across) {
      cell(1 - across, column.area.y, {across, up, 0, state.gaze.fixing});
    }
    column.gap(kCellHeight + kCellGap);
  }
  cell(0, column.area.y, {0, 0, 1, state.gaze.fixing});
  cell(2, column.area.y, {0, 0, -1, state.gaze.fixing});
  const float middle = column.area.x + width + kCellGap;
  ui.text_in({middle, column.area.y, width, kCellHeight}, TextStyle::small, Token::ink2,
             "head tilted", Align::centre);
  column.gap(kCellHeight + 9);

  Finding f = editor.find(make_key(editor, state.gaze));
  const Rect r = column.row(ui, name_of_place(state.gaze));
  static constexpr Words kMethods[] = {"No movement", "By eye", "With prism"};
  std::optional<std::size_t> how;
  if (f.kind == FindingKind::none) {
    how = 0;
  } else if (f.method) {
    how = f.method == SizeMethod::measured ? 2 : 1;
  }
  if (const auto pick = one_of_few(ui, {r.x, r.y, 0, r.h}, "gaze how", kMethods, how)) {
    f.kind.reset();
    if (*pick == 0) {
      f.kind = FindingKind::none;
      f.horizontal_pd.reset();
      f.vertical_pd.reset();
      f.method.reset();
      state.gaze_ways = {};
    } else {
      f.method = *pick == 2 ? SizeMethod::measured : SizeMethod::estimated;
    }
    editor.edit(f);
  }
  static constexpr Words kAcross[] = {"Eso", "Exo"};
  static constexpr Words kUp[] = {"R/L", "L/R"};
  bool changed = draw_sized_row(ui, column, "Across", "gaze across", kAcross, f.horizontal_pd,
                                state.gaze_ways.across);
  changed =
      draw_sized_row(ui, column, "Height", "gaze height", kUp, f.vertical_pd, state.gaze_ways.up) ||
      changed;
  if (!changed) return;
  if (f.kind == FindingKind::none) f.kind.reset();
  if (!f.method) f.method = SizeMethod::estimated;
  if (!f.horizontal_pd && !f.vertical_pd) f.method.reset();
  editor.edit(f);
}

}  // namespace redress::screens::record
