// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// What was written, under the time axis: a triangle where it was written and the words beside it.
// Words that would overlap go to a second row, then several become one. Units.
#pragma once

#include <cstddef>
#include <functional>
#include <string>
#include <string_view>
#include <vector>

#include "render/screens/debrief/debrief_model.hpp"
#include "render/screens/parts/plots.hpp"

namespace redress::screens::debrief {

struct PlacedNote {
  std::string words;      ///< empty: there is room for the triangle alone
  float mark_x = 0;       ///< middle of the triangle: when the first of them was written
  float words_x = 0;      ///< where the words begin
  float width = 0;        ///< of the words
  int row = 0;            ///< 0 below the axis, then downwards
  std::size_t count = 1;  ///< notes in it

  [[nodiscard]] float left() const;
  [[nodiscard]] float right() const;
};

/// `measure`: the width of words. Nothing reaches beyond the axis, and in a row nothing overlaps.
std::vector<PlacedNote> place_notes(const std::vector<NoteMark>& notes, const TimeAxis& axis,
                                    int rows,
                                    const std::function<float(std::string_view)>& measure);

/// Draws them from the top of `r` on, a row every kNoteRow.
inline constexpr float kNoteRow = 20;
void draw_notes(Ui& ui, const Rect& r, const TimeAxis& axis, const DebriefModel& model, int rows);

}  // namespace redress::screens::debrief
