// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// What stands beside a size (practice §2.7): what moved on cover and uncover, versions and
// ductions, pattern, torsion, DVD, nystagmus, double vision, head posture, how sure, why not
// tested.
#include <array>
#include <cmath>
#include <string>

#include <fmt/format.h>

#include "render/screens/record/record_rows.hpp"

namespace redress::screens::record {

using Words = std::string_view;

namespace {

constexpr Words kWays[] = {"Still", "In", "Out", "Up", "Down"};
constexpr Words kShort[] = {"Full", "Adduct.", "Abduct.", "Elev.", "Depr."};
constexpr Words kYesNo[] = {"Yes", "No"};

template <class E>
std::optional<std::size_t> index_of(const std::optional<E>& value) {
  if (!value) return std::nullopt;
  return static_cast<std::size_t>(*value);
}

// In its natural width, or what the row has.
std::optional<std::size_t> choose(Ui& ui, const Rect& r, Words id, std::span<const Words> options,
                                  std::optional<std::size_t> chosen) {
  const float width = std::min(r.w, measure_one_of_few(ui, options));
  return one_of_few(ui, {r.x, r.y, width, r.h}, id, options, chosen);
}

bool draw_yes_no(Ui& ui, Column& column, Words label, Words id, std::optional<bool>& value) {
  std::optional<std::size_t> chosen;
  if (value) chosen = *value ? 0 : 1;
  const auto pick = choose(ui, column.row(ui, label), id, kYesNo, chosen);
  if (pick) value = *pick == 0;
  return pick.has_value();
}

// ---------------------------------------------------------------------------- head posture

constexpr std::array<std::array<Words, 2>, 3> kPostures{{{"head tilt right", "head tilt left"},
                                                         {"face turn right", "face turn left"},
                                                         {"chin up", "chin down"}}};

bool holds(const std::string& posture, Words part) {
  return (", " + posture + ",").find(", " + std::string(part) + ",") != std::string::npos;
}

// The posture as its parts, in one order; none: straight.
std::string join(const std::array<std::optional<std::size_t>, 3>& chosen) {
  std::string text;
  for (std::size_t i = 0; i < chosen.size(); ++i) {
    if (chosen[i]) text += (text.empty() ? "" : ", ") + std::string(kPostures[i][*chosen[i]]);
  }
  return text.empty() ? "straight" : text;
}

bool draw_posture_rows(Ui& ui, Column& column, std::string& posture) {
  static constexpr Words kSides[] = {"None", "Right", "Left"};
  static constexpr Words kChin[] = {"None", "Up", "Down"};
  constexpr const char* kLabels[] = {"Head tilt", "Face turn", "Chin"};
  std::array<std::optional<std::size_t>, 3> parts;
  for (std::size_t i = 0; i < parts.size(); ++i) {
    for (std::size_t k = 0; k < 2; ++k) {
      if (holds(posture, kPostures[i][k])) parts[i] = k;
    }
  }
  bool changed = false;
  for (std::size_t i = 0; i < parts.size(); ++i) {
    std::optional<std::size_t> chosen;
    if (parts[i]) chosen = *parts[i] + 1;
    if (!chosen && !posture.empty()) chosen = 0;
    const auto pick = choose(ui, column.row(ui, kLabels[i]), fmt::format("posture {}", i),
                             i == 2 ? std::span<const Words>(kChin) : kSides, chosen);
    if (!pick) continue;
    parts[i].reset();
    if (*pick > 0) parts[i] = *pick - 1;
    changed = true;
  }
  if (changed) posture = join(parts);
  return changed;
}

bool draw_torsion_row(Ui& ui, Column& column, std::optional<double>& torsion) {
  static constexpr Words kTorsion[] = {"None", "Excyclo", "Incyclo"};
  std::optional<std::size_t> chosen;
  if (torsion) chosen = *torsion == 0.0 ? 0 : *torsion > 0.0 ? 1 : 2;
  const Rect r = column.row(ui, "Torsion");
  const float width = measure_one_of_few(ui, kTorsion);
  bool changed = false;
  if (const auto pick = one_of_few(ui, {r.x, r.y, width, r.h}, "torsion", kTorsion, chosen)) {
    const double size = torsion && *torsion != 0.0 ? std::abs(*torsion) : 1.0;
    torsion = *pick == 0 ? 0.0 : *pick == 1 ? size : -size;
    return true;
  }
  if (!torsion || *torsion == 0.0) return changed;
  const Rect at{r.x + width + 8, r.y, std::min(112.0F, r.w - width - 8), r.h};
  const double size = std::abs(*torsion);
  const int decimals = size == std::floor(size) ? 0 : 1;
  if (const auto value = stepper(ui, at, "torsion size", size, {1, 45, 1, decimals, "°"})) {
    torsion = *torsion > 0.0 ? *value : -*value;
    changed = true;
  }
  return changed;
}

}  // namespace

void draw_movement_rows(Ui& ui, Column& column, CardEditor& editor) {
  Finding f = editor.find(FindingTest::cover_test);
  const auto movement = [&](Words label, Words id, std::optional<SeenWay>& way) {
    if (const auto pick = choose(ui, column.row(ui, label), id, kWays, index_of(way))) {
      way = static_cast<SeenWay>(*pick);
      editor.edit(f);
    }
  };
  movement("R, L covered", "right on cover", f.on_cover.right);
  movement("L, R covered", "left on cover", f.on_cover.left);
  movement("R uncovered", "right on uncover", f.on_uncover.right);
  movement("L uncovered", "left on uncover", f.on_uncover.left);
  Finding m = editor.find(FindingTest::motility);
  const auto ductions = [&](Words label, Words id, std::optional<SeenWay>& way) {
    if (const auto pick = choose(ui, column.row(ui, label), id, kShort, index_of(way))) {
      way = static_cast<SeenWay>(*pick);
      editor.edit(m);
    }
  };
  ductions("R short of", "right short", m.falls_short.right);
  ductions("L short of", "left short", m.falls_short.left);
}

void draw_beside_rows(Ui& ui, Column& column, CardEditor& editor, RecordState& state) {
  Finding f = editor.find(FindingTest::cover_test);
  bool changed = false;
  static constexpr Words kPatterns[] = {"None", "A", "V"};
  if (const auto pick =
          choose(ui, column.row(ui, "A or V"), "pattern", kPatterns, index_of(f.pattern))) {
    f.pattern = static_cast<SeenPattern>(*pick);
    changed = true;
  }
  changed = draw_torsion_row(ui, column, f.torsion_deg) || changed;
  changed = draw_yes_no(ui, column, "DVD", "dvd", f.dvd) || changed;
  changed = draw_yes_no(ui, column, "Nystagmus", "nystagmus", f.nystagmus) || changed;
  changed = draw_yes_no(ui, column, "Sees double", "double", f.double_vision) || changed;
  changed = draw_posture_rows(ui, column, f.head_posture) || changed;
  if (f.kind == FindingKind::tropia) {
    changed = draw_yes_no(ui, column, "To next blink", "holds", f.holds_to_blink) || changed;
    std::optional<double> covers;
    if (f.covers_to_break) covers = *f.covers_to_break;
    const Rect r = column.row(ui, "Broke after");
    if (const auto value = stepper(ui, {r.x, r.y, std::min(136.0F, r.w), r.h}, "covers to break",
                                   covers, {1, 60, 1, 0, ""})) {
      f.covers_to_break = covers ? static_cast<std::int32_t>(*value) : 1;
      changed = true;
    }
  }
  static constexpr Words kTargets[] = {"Letters", "Letter", "Picture", "Spot"};
  constexpr std::array<const char*, 4> kTargetWords{"letters", "letter", "picture", "spot"};
  std::optional<std::size_t> target;
  for (std::size_t i = 0; i < kTargetWords.size(); ++i) {
    if (f.target == kTargetWords[i]) target = i;
  }
  if (const auto pick = choose(ui, column.row(ui, "Target"), "target", kTargets, target)) {
    f.target = kTargetWords[*pick];
    changed = true;
  }
  static constexpr Words kSure[] = {"Sure", "Fairly", "Unsure"};
  if (const auto pick =
          choose(ui, column.row(ui, "How sure"), "sure", kSure, index_of(f.confidence))) {
    f.confidence = static_cast<Confidence>(*pick);
    changed = true;
  }
  const std::string id = "not tested " + name_of(editor.condition());
  changed = draw_text_row(ui, column, "Not tested", id, "because …", f.not_done, state) || changed;
  if (changed) editor.edit(f);
}

}  // namespace redress::screens::record
