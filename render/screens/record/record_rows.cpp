// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/screens/record/record_rows.hpp"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>

#include <fmt/format.h>

namespace redress::screens::record {

using Words = std::string_view;

namespace {

constexpr float kRowGap = 7;
constexpr float kStepper = 136;
constexpr double kMostPd = 100;
constexpr std::array<double, 17> kBar{0, 1, 2, 4, 6, 8, 10, 12, 14, 16, 18, 20, 25, 30, 35, 40, 45};

std::optional<std::size_t> sign_index(int sign) {
  if (sign == 0) return std::nullopt;
  return sign > 0 ? 0 : 1;
}
int index_sign(std::size_t index) { return index == 0 ? 1 : -1; }

Rect left_part(const Rect& r, float width) { return {r.x, r.y, std::min(width, r.w), r.h}; }

template <class E>
std::optional<std::size_t> index_of(const std::optional<E>& value) {
  if (!value) return std::nullopt;
  return static_cast<std::size_t>(*value);
}

}  // namespace

std::string name_of(const Condition& c) {
  return findings::write_distance(c.distance_m) + (c.spectacles ? " cc" : " sc");
}

Rect Column::row(Ui& ui, std::string_view words, float height) {
  const Rect r{area.x, area.y, area.w, height};
  ui.text_in({r.x, r.y, label - 4, r.h}, TextStyle::small, Token::ink2, words);
  area.y += height + kRowGap;
  return {r.x + label, r.y, r.w - label, r.h};
}

double along_bar(std::optional<double> from, double to) {
  if (!from && to == 0.0) return 1.0;
  const double before = from.value_or(0.0);
  if (std::abs(to - before) > 1.001) return to;
  if (to > before) {
    const auto next = std::upper_bound(kBar.begin(), kBar.end(), before);
    return next == kBar.end() ? to : *next;
  }
  const auto next = std::lower_bound(kBar.begin(), kBar.end(), before);
  return next == kBar.begin() ? 0.0 : *std::prev(next);
}

bool draw_sized_row(Ui& ui, Column& column, std::string_view label, std::string_view id,
                    std::span<const std::string_view> names, std::optional<double>& size,
                    int& pending) {
  constexpr float kNarrow = 120;
  const Rect r = column.row(ui, label);
  int sign = pending;
  if (size && *size != 0.0) sign = *size > 0.0 ? 1 : -1;
  const float width = measure_one_of_few(ui, names);
  bool changed = false;
  const std::string way_id = std::string(id) + " way";
  if (const auto pick = one_of_few(ui, {r.x, r.y, width, r.h}, way_id, names, sign_index(sign))) {
    pending = index_sign(*pick);
    if (size && *size != 0.0) {
      size = std::abs(*size) * pending;
      changed = true;
    }
    sign = pending;
  }
  std::optional<double> shown;
  if (size) shown = std::abs(*size);
  const Rect at{r.x + width + 8, r.y, std::min(kNarrow, r.w - width - 8), r.h};
  const int decimals = shown && *shown != std::floor(*shown) ? 1 : 0;
  if (const auto value = stepper(ui, at, id, shown, {0, kMostPd, 1, decimals, "Δ"})) {
    const double along = along_bar(shown, *value);
    if (along == 0.0) {
      size = shown && *shown != 0.0 ? std::optional<double>{} : 0.0;
      changed = true;
    } else if (sign != 0) {
      size = along * sign;
      changed = true;
    }
  }
  return changed;
}

// ------------------------------------------------------------------------------- cover and uncover

namespace {

void draw_tropia_rows(Ui& ui, Column& column, CardEditor& editor) {
  Finding f = editor.find(FindingTest::cover_test);
  static constexpr Words kConstancy[] = {"Constant", "Intermittent"};
  if (const auto pick = one_of_few(ui, left_part(column.row(ui, "How often"), 0), "constancy",
                                   kConstancy, index_of(f.constancy))) {
    f.constancy = static_cast<Constancy>(*pick);
    editor.edit(f);
  }
  static constexpr Words kEyes[] = {"Right", "Left", "Alternating"};
  std::optional<std::size_t> eye = index_of(f.eye);
  if (eye && *eye >= std::size(kEyes)) eye.reset();
  if (const auto pick = one_of_few(ui, left_part(column.row(ui, "Eye"), 0), "eye", kEyes, eye)) {
    f.eye = static_cast<FindingEye>(*pick);
    editor.edit(f);
  }
}

void draw_size_row(Ui& ui, Column& column, CardEditor& editor, bool vertical, Words label) {
  Finding f = editor.find(FindingTest::cover_test);
  std::optional<double>& size = vertical ? f.vertical_pd : f.horizontal_pd;
  const int sign = vertical ? editor.up() : editor.across();
  std::optional<double> shown;
  if (size) shown = std::abs(*size);
  const Rect r = column.row(ui, label);
  if (const auto value =
          stepper(ui, left_part(r, kStepper), vertical ? "vertical" : "size", shown,
                  {0, kMostPd, 1, shown && *shown != std::floor(*shown) ? 1 : 0, "Δ"})) {
    if (*value == 0.0 && size) {
      size.reset();
      editor.edit(f);
      editor.set_direction(vertical ? editor.across() : 0, vertical ? 0 : editor.up());
    } else {
      size = std::max(1.0, *value) * sign;  // the first step is not nothing
      if (!f.method) f.method = SizeMethod::estimated;
      editor.edit(f);
    }
  }
  if (!vertical) {
    const bool measured = f.method == SizeMethod::measured;
    ui.text_in({r.x + kStepper + 10, r.y, r.w - kStepper - 10, r.h}, TextStyle::small, Token::ink2,
               measured ? "measured" : "estimated");
  }
}

}  // namespace

void draw_cover_rows(Ui& ui, Column& column, CardEditor& editor) {
  Finding f = editor.find(FindingTest::cover_test);
  static constexpr Words kKinds[] = {"None", "Phoria", "Tropia"};
  if (const auto pick = one_of_few(ui, left_part(column.row(ui, "Movement"), 0), "movement", kKinds,
                                   index_of(f.kind))) {
    f.kind = static_cast<FindingKind>(*pick);
    if (*pick != 2) {
      f.constancy.reset();
      f.eye.reset();
    }
    if (*pick == 0) {
      f.horizontal_pd.reset();
      f.vertical_pd.reset();
      f.method.reset();
      f.recovery.reset();
    }
    editor.edit(f);
    if (*pick == 0) editor.set_direction(0, 0);
    f = editor.find(FindingTest::cover_test);
    if (*pick == 0) {
      f.kind = FindingKind::none;
      editor.edit(f);
    }
  }
  if (!f.kind || *f.kind == FindingKind::none) return;
  if (*f.kind == FindingKind::tropia) draw_tropia_rows(ui, column, editor);

  Rect r = column.row(ui, "Direction");
  static constexpr Words kAcross[] = {"Eso", "Exo"};
  static constexpr Words kUp[] = {"R/L", "L/R"};
  const Rect first = left_part(r, measure_one_of_few(ui, kAcross));
  if (const auto pick = one_of_few(ui, first, "across", kAcross, sign_index(editor.across()))) {
    editor.set_direction(index_sign(*pick), editor.up());
  }
  if (const auto pick = one_of_few(ui, {first.right() + 10, r.y, measure_one_of_few(ui, kUp), r.h},
                                   "up", kUp, sign_index(editor.up()))) {
    editor.set_direction(editor.across(), index_sign(*pick));
  }
  const bool across = editor.across() != 0;
  if (across) draw_size_row(ui, column, editor, false, "Size");
  if (editor.up() != 0) draw_size_row(ui, column, editor, true, across ? "and vertical" : "Size");

  f = editor.find(FindingTest::cover_test);
  static constexpr Words kRecovery[] = {"Rapid", "Moderate", "Slow", "None"};
  if (const auto pick = one_of_few(ui, left_part(column.row(ui, "Recovery"), 0), "recovery",
                                   kRecovery, index_of(f.recovery))) {
    f.recovery = static_cast<RecoveryGrade>(*pick);
    editor.edit(f);
  }
  std::optional<double> covers;
  if (const auto count = editor.covers_seen()) covers = *count;
  if (const auto value = stepper(ui, left_part(column.row(ui, "Covers seen"), kStepper), "covers",
                                 covers, {0, 30, 1, 0, ""})) {
    editor.set_covers_seen(covers ? static_cast<int>(*value) : 1);
  }
}

// ------------------------------------------------------------------------------------------ prism

namespace {

constexpr Words kInOut[] = {"in", "out"};
constexpr Words kUpDown[] = {"up", "down"};
constexpr Words kRightLeft[] = {"R", "L"};
constexpr Words kReversal = "reversal ";

// Base in neutralises exo; base down before the right eye a higher right eye.
void read_pending(const Finding& f, PrismPending& p) {
  if (f.horizontal_pd && *f.horizontal_pd != 0.0) {
    p.across_pd = std::abs(*f.horizontal_pd);
    p.across_base = *f.horizontal_pd < 0.0 ? 0 : 1;
  }
  if (f.vertical_pd && *f.vertical_pd != 0.0) {
    p.up_pd = std::abs(*f.vertical_pd);
    const bool right_higher = *f.vertical_pd > 0.0;
    if (!p.before) p.before = 0;
    p.up_base = right_higher == (*p.before == 0) ? 1 : 0;
  }
}

void write_pending(const PrismPending& p, Finding& f) {
  f.horizontal_pd.reset();
  f.vertical_pd.reset();
  if (p.across_pd && (p.across_base || *p.across_pd == 0.0)) {
    f.horizontal_pd = *p.across_pd == 0.0 ? 0.0 : *p.across_pd * (*p.across_base == 0 ? -1.0 : 1.0);
  }
  if (p.up_pd && *p.up_pd > 0.0 && p.up_base && p.before) {
    const bool right_higher = (*p.up_base == 1) == (*p.before == 0);
    f.vertical_pd = *p.up_pd * (right_higher ? 1.0 : -1.0);
  }
  if (f.horizontal_pd || f.vertical_pd) {
    f.method = SizeMethod::measured;
  } else {
    f.method.reset();
  }
}

bool draw_vertical_prism(Ui& ui, Column& column, PrismPending& p) {
  constexpr float kNarrow = 112;
  constexpr float kSides = 58;
  bool changed = false;
  const Rect r = column.row(ui, "and");
  if (const auto value =
          stepper(ui, left_part(r, kNarrow), "vertical", p.up_pd, {0, kMostPd, 1, 0, "Δ"})) {
    p.up_pd = along_bar(p.up_pd, *value);
    changed = true;
  }
  float x = r.x + kNarrow + 6;
  const float up = measure_one_of_few(ui, kUpDown);
  if (const auto pick = one_of_few(ui, {x, r.y, up, r.h}, "up or down", kUpDown, p.up_base)) {
    p.up_base = pick;
    changed = true;
  }
  x += up + 6;
  if (const auto pick = one_of_few(ui, {x, r.y, kSides, r.h}, "before", kRightLeft, p.before)) {
    p.before = pick;
    changed = true;
  }
  return changed;
}

std::optional<double> find_reversal(const std::string& remark) {
  if (!remark.starts_with(kReversal)) return std::nullopt;
  int value = 0;
  const auto [end, error] =
      std::from_chars(remark.data() + kReversal.size(), remark.data() + remark.size(), value);
  if (error != std::errc{}) return std::nullopt;
  return value;
}

}  // namespace

void draw_prism_rows(Ui& ui, Column& column, CardEditor& editor, RecordState& state) {
  if (!(state.prism_at == editor.condition())) {
    state.prism = {};
    state.prism_at = editor.condition();
  }
  Finding f = editor.find(FindingTest::prism_cover);
  PrismPending& p = state.prism;
  read_pending(f, p);
  bool changed = false;
  const float base = measure_one_of_few(ui, kInOut);

  const Rect r = column.row(ui, "Neutral at");
  if (const auto value =
          stepper(ui, left_part(r, kStepper), "neutral", p.across_pd, {0, kMostPd, 1, 0, "Δ"})) {
    p.across_pd = along_bar(p.across_pd, *value);
    changed = true;
  }
  const float x = r.x + kStepper + 10;
  ui.text_in({x, r.y, 34, r.h}, TextStyle::small, Token::ink2, "base");
  if (const auto pick =
          one_of_few(ui, {x + 36, r.y, base, r.h}, "in or out", kInOut, p.across_base)) {
    p.across_base = pick;
    changed = true;
  }

  // Only where a vertical deviation was written.
  if (editor.up() != 0 || p.up_pd) changed = draw_vertical_prism(ui, column, p) || changed;
  if (changed) {
    write_pending(p, f);
    editor.edit(f);
  }

  const std::optional<double> reversal = find_reversal(f.remark);
  if (const auto value = stepper(ui, left_part(column.row(ui, "Reversal"), kStepper), "reversal",
                                 reversal, {0, kMostPd, 1, 0, "Δ"})) {
    const double at = along_bar(reversal, *value);
    f.remark = at > 0.0 ? fmt::format("{}{:.0f}Δ", kReversal, at) : "";
    editor.edit(f);
  }
}

void draw_four_dioptre_rows(Ui& ui, Column& column, CardEditor& editor) {
  static constexpr Words kResponses[] = {"Normal", "No movement", "No refixation", "Unclear"};
  constexpr std::size_t kUnclear = 3;
  // Four answers want the room of the label.
  const float label = column.label;
  const float natural = measure_one_of_few(ui, kResponses);
  if (column.area.w - label < natural) column.label = 24;
  for (const FindingEye eye : {FindingEye::right, FindingEye::left}) {
    Finding f = editor.find(FindingTest::four_dioptre, eye);
    const bool right = eye == FindingEye::right;
    const bool short_name = column.label < 60;
    const Words name = short_name ? (right ? "R" : "L") : (right ? "Right" : "Left");
    std::optional<std::size_t> chosen = index_of(f.response);
    if (!chosen && !f.not_done.empty()) chosen = kUnclear;
    const Rect r = column.row(ui, name);
    const float width = std::min(r.w, natural);
    if (const auto pick = one_of_few(ui, {r.x, r.y, width, r.h}, right ? "four right" : "four left",
                                     kResponses, chosen)) {
      f.response.reset();
      f.not_done.clear();
      if (*pick == kUnclear) {
        f.not_done = "unclear";
      } else {
        f.response = static_cast<FourDioptreResponse>(*pick);
      }
      editor.edit(f);
    }
  }
  column.label = label;
}

}  // namespace redress::screens::record
