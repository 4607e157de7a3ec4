// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The rows of the card: each section draws itself from the top of a column and returns how far it
// came down. Used by the card beside the patient and by the whole card.
#pragma once

#include <span>
#include <string_view>

#include "render/screens/parts/parts.hpp"
#include "render/screens/record/record_state.hpp"

namespace redress::screens::record {

/// Where the next row goes.
struct Column {
  Rect area;  ///< x and w hold; y is that of the next row
  float label = 84;

  /// A row of `height`, 8 below the last; the label drawn, the rest returned.
  Rect row(Ui& ui, std::string_view words, float height = 30);
  void gap(float height) { area.y += height; }
};

void draw_cover_rows(Ui& ui, Column& column, CardEditor& editor);
void draw_prism_rows(Ui& ui, Column& column, CardEditor& editor, RecordState& state);
void draw_four_dioptre_rows(Ui& ui, Column& column, CardEditor& editor);
void draw_reserve_rows(Ui& ui, Column& column, CardEditor& editor);
void draw_near_point_rows(Ui& ui, Column& column, CardEditor& editor);
void draw_control_rows(Ui& ui, Column& column, CardEditor& editor);
void draw_reflex_rows(Ui& ui, Column& column, CardEditor& editor, RecordState& state);
/// Nine gazes as one faces the patient, two tilts; below them the size in the one chosen.
void draw_gaze_rows(Ui& ui, Column& column, CardEditor& editor, RecordState& state);
void draw_comitance_row(Ui& ui, Column& column, CardEditor& editor);
/// What moved on cover and uncover, versions and ductions.
void draw_movement_rows(Ui& ui, Column& column, CardEditor& editor);
/// Pattern, torsion, DVD, head posture and the like.
void draw_beside_rows(Ui& ui, Column& column, CardEditor& editor, RecordState& state);

/// A size with its direction on one row. True: `size` is new. `names`: of + and −.
bool draw_sized_row(Ui& ui, Column& column, std::string_view label, std::string_view id,
                    std::span<const std::string_view> names, std::optional<double>& size,
                    int& pending);
/// A short text that is kept while it is typed. True: it settled and `text` is new.
bool draw_text_row(Ui& ui, Column& column, std::string_view label, const std::string& id,
                   std::string_view hint, std::string& text, RecordState& state);

/// One step up or down goes along a prism bar; a typed value stays as it is.
[[nodiscard]] double along_bar(std::optional<double> from, double to);

/// The line of shorthand and what it reads as; returns the height used.
float draw_line(Ui& ui, const Rect& r, CardEditor& editor, RecordState& state, float height);
/// The chips of the conditions; returns the height used.
float draw_conditions(Ui& ui, const Rect& r, CardEditor& editor, RecordState& state);

/// Which distance and correction to add; returns the height used.
float draw_adding(Ui& ui, const Rect& r, CardEditor& editor, RecordState& state);

/// What the traditions of shorthand are called, in their order.
inline constexpr std::string_view kTraditions[] = {"UK", "US", "Hospital"};

/// "6 m cc".
std::string name_of(const Condition& condition);

}  // namespace redress::screens::record
