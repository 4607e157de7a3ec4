// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Rows of reserves, near point, control score and reflexes; the line and the chips.
#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "render/screens/record/record_rows.hpp"

namespace redress::screens::record {

using Words = std::string_view;

namespace {

// A value with its unit, as wide as r. True: it is new; a step to 0 takes it away.
bool value_stepper(Ui& ui, const Rect& r, Words id, std::optional<double>& value, double most,
                   bool along, Words unit) {
  const int decimals = value && *value != std::floor(*value) ? 1 : 0;
  const auto now = stepper(ui, r, id, value, {0, most, 1, decimals, unit});
  if (!now) return false;
  const double to = along ? along_bar(value, *now) : *now;
  value = to == 0.0 && value ? std::optional<double>{} : std::max(to, 1.0);
  return true;
}

}  // namespace

void draw_reserve_rows(Ui& ui, Column& column, CardEditor& editor) {
  constexpr float kGap = 8;
  const float cell = (column.area.w - 2 * kGap) / 3;
  constexpr Words kHeads[] = {"Blur", "Break", "Recovery"};
  const auto place = [&](std::size_t i, float height) {
    return Rect{column.area.x + static_cast<float>(i) * (cell + kGap), column.area.y, cell, height};
  };
  for (const char* base : {"out", "in"}) {
    Finding f = editor.find(FindingTest::reserves, {}, base);
    std::optional<double>* values[] = {&f.blur_value, &f.break_value, &f.recovery_value};
    for (std::size_t i = 0; i < 3; ++i) {
      ui.text_in(place(i, 18), TextStyle::small, Token::ink2,
                 i == 0 ? fmt::format("Base {}: blur", base) : std::string(kHeads[i]));
    }
    column.gap(20);
    bool changed = false;
    for (std::size_t i = 0; i < 3; ++i) {
      const std::string id = fmt::format("{} {}", base, kHeads[i]);
      changed = value_stepper(ui, place(i, 30), id, *values[i], 100, true, "") || changed;
    }
    column.gap(38);
    if (changed) editor.edit(f);
  }
}

void draw_near_point_rows(Ui& ui, Column& column, CardEditor& editor) {
  // The target comes from where it stands to the nose: the near point has no distance of its own.
  Finding f = editor.find(FindingTest::near_point);
  bool changed = false;
  const auto one = [&](Words label, Words id, std::optional<double>& value) {
    const Rect r = column.row(ui, label);
    changed =
        value_stepper(ui, {r.x, r.y, std::min(r.w, 146.0F), r.h}, id, value, 200, false, "cm") ||
        changed;
  };
  one("Break", "near break", f.break_value);
  one("Recovery", "near recovery", f.recovery_value);
  static constexpr Words kEyes[] = {"Right", "Left"};
  std::optional<std::size_t> eye;
  if (f.eye == FindingEye::right || f.eye == FindingEye::left) {
    eye = static_cast<std::size_t>(*f.eye);
  }
  const Rect r = column.row(ui, "Goes out");
  if (const auto pick = one_of_few(ui, {r.x, r.y, 0, r.h}, "near eye", kEyes, eye)) {
    f.eye = static_cast<FindingEye>(*pick);
    changed = true;
  }
  if (changed) editor.edit(f);
}

void draw_control_rows(Ui& ui, Column& column, CardEditor& editor) {
  const auto one = [&](Words label, Words id, double distance_m) {
    Finding key = editor.make_empty(FindingTest::control);
    key.distance_m = distance_m;
    Finding f = editor.find(key);
    std::optional<double> shown;
    if (f.control) shown = *f.control;
    const Rect r = column.row(ui, label);
    if (const auto value = stepper(ui, {r.x, r.y, 112, r.h}, id, shown, {0, 5, 1, 0, ""})) {
      f.control = static_cast<std::int32_t>(*value);
      editor.edit(f);
    }
    ui.text_in({r.x + 122, r.y, r.w - 122, r.h}, TextStyle::small, Token::ink2,
               findings::write_distance(distance_m) + ", 0 to 5");
  };
  one("Control, D", "control distance", 6.0);
  one("Control, N", "control near", editor.near_m());
}

void draw_reflex_rows(Ui& ui, Column& column, CardEditor& editor, RecordState& state) {
  static constexpr Words kMethods[] = {"Central", "Hirschberg", "Krimsky"};
  Finding f = editor.find(FindingTest::reflexes);
  std::optional<std::size_t> chosen;
  if (f.kind == FindingKind::none) {
    chosen = 0;
  } else if (f.method || f.horizontal_pd || f.vertical_pd) {
    chosen = f.method == SizeMethod::krimsky ? 2 : 1;
  }
  const Rect r = column.row(ui, "Reflexes");
  if (const auto pick = one_of_few(ui, {r.x, r.y, 0, r.h}, "reflexes", kMethods, chosen)) {
    f.kind = *pick == 0 ? FindingKind::none : FindingKind::tropia;
    f.method = *pick == 2 ? SizeMethod::krimsky : SizeMethod::hirschberg;
    f.constancy.reset();
    if (*pick == 0) {
      f.horizontal_pd.reset();
      f.vertical_pd.reset();
      f.eye.reset();
      state.reflex_ways = {};
    } else {
      f.constancy = Constancy::constant;
    }
    editor.edit(f);
  }
  if (!chosen || *chosen == 0) return;
  static constexpr Words kEyes[] = {"Right", "Left", "Alternating"};
  std::optional<std::size_t> eye;
  if (f.eye && *f.eye != FindingEye::both) eye = static_cast<std::size_t>(*f.eye);
  const Rect e = column.row(ui, "Eye");
  if (const auto pick = one_of_few(ui, {e.x, e.y, 0, e.h}, "reflex eye", kEyes, eye)) {
    f.eye = static_cast<FindingEye>(*pick);
    editor.edit(f);
  }
  static constexpr Words kAcross[] = {"Eso", "Exo"};
  static constexpr Words kUp[] = {"R/L", "L/R"};
  if (draw_sized_row(ui, column, "Size", "reflex size", kAcross, f.horizontal_pd,
                     state.reflex_ways.across)) {
    editor.edit(f);
  }
  if (draw_sized_row(ui, column, "and", "reflex vertical", kUp, f.vertical_pd,
                     state.reflex_ways.up)) {
    editor.edit(f);
  }
}

bool draw_text_row(Ui& ui, Column& column, Words label, const std::string& id, Words hint,
                   std::string& text, RecordState& state) {
  const Rect r = column.row(ui, label);
  auto kept = std::find_if(state.texts.begin(), state.texts.end(),
                           [&](const auto& entry) { return entry.first == id; });
  std::string typed = kept != state.texts.end() ? kept->second : text;
  const FieldEvent event = field(ui, r, id, typed, {.hint = hint, .longest = 200});
  if (event.changed) {
    if (kept == state.texts.end()) {
      state.texts.emplace_back(id, typed);
    } else {
      kept->second = typed;
    }
  }
  if (!event.settled) return false;
  std::erase_if(state.texts, [&](const auto& entry) { return entry.first == id; });
  const bool changed = typed != text;
  text = typed;
  return changed;
}

float draw_line(Ui& ui, const Rect& r, CardEditor& editor, RecordState& state, float height) {
  if (state.focus_line) {
    ui.focus(ui.full_id("line"));
    state.focus_line = false;
  }
  std::string text = editor.line();
  const bool unread = !editor.reading().unread.empty();
  const FieldEvent event = field(ui, {r.x, r.y, r.w, height}, "line", text,
                                 {.hint = "Write a finding: 6 m cc 2Δ XOP rapid rec",
                                  .not_read = unread,
                                  .key = state.keys.line,
                                  .strong = true});
  if (event.changed) editor.type(text);
  if (event.settled) editor.settle();
  // The next finding, or the same one mended, is written without another touch.
  // At once, so that keys which come now wait until it has them.
  if (event.entered) ui.focus(ui.full_id("line"));
  const std::string words = editor.reading().message();
  if (words.empty()) {
    ui.text_in({r.x, r.y + height + 6, r.w, 18}, TextStyle::small, Token::ink3,
               "Nothing is being written.");
    return height + 6 + 18;
  }
  const float most = r.h - height - 6;
  const float aside = unread ? 22 : 0;
  if (unread) icon(ui, Icon::caution, {r.x + 8, r.y + height + 15}, Token::care, 15);
  const float needed = ui.measure_paragraph(r.w - aside, TextStyle::small, words);
  ui.paragraph(
      {r.x + aside, r.y + height + 6, r.w - aside, std::max(18.0F, std::min(needed, most))},
      TextStyle::small, unread ? Token::ink : Token::ink2, words);
  return height + 6 + std::max(18.0F, std::min(needed, most));
}

float draw_adding(Ui& ui, const Rect& r, CardEditor& editor, RecordState& state) {
  if (const auto value = stepper(ui, {r.x, r.y, 148, 30}, "distance to add",
                                 state.add_distance_m * 100, {10, 2000, 10, 0, "cm"})) {
    state.add_distance_m = *value / 100;
  }
  for (const bool spectacles : {true, false}) {
    const Rect at{r.x + 158 + (spectacles ? 0.0F : 62.0F), r.y, 54, 30};
    if (button(ui, at, spectacles ? "cc" : "sc")) {
      editor.choose({state.add_distance_m, spectacles});
      state.adding = false;
    }
  }
  return 30;
}

float draw_conditions(Ui& ui, const Rect& r, CardEditor& editor, RecordState& state) {
  constexpr float kHeight = 28;
  constexpr float kGap = 8;
  float x = r.x;
  float y = r.y;
  const auto place = [&](float width) {
    if (x + width > r.right() + 0.5F && x > r.x) {
      x = r.x;
      y += kHeight + 6;
    }
    const Rect at{x, y, width, kHeight};
    x += width + kGap;
    return at;
  };
  std::optional<Condition> chosen;
  for (std::size_t i = 0; i < editor.conditions().size(); ++i) {
    const Condition& c = editor.conditions()[i];
    const std::string name = name_of(c);
    const bool done = editor.is_written(c);
    const float width = ui.measure_text(TextStyle::small_strong, name) + 20 + (done ? 20 : 0);
    if (chip(ui, place(width), name, {.chosen = i == editor.current(), .done = done})) chosen = c;
  }
  if (button(ui, place(30), "", {.icon = Icon::plus, .id = "add condition"})) {
    state.adding = !state.adding;
  }
  if (state.adding) {
    y += kHeight + 8;
    y += draw_adding(ui, {r.x, y, r.w, 30}, editor, state) - kHeight;
  }
  if (chosen) editor.choose(*chosen);
  return y + kHeight - r.y;
}

}  // namespace redress::screens::record
