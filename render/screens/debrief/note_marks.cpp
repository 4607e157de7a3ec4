// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/screens/debrief/note_marks.hpp"

#include <algorithm>
#include <optional>

#include <fmt/format.h>

namespace redress::screens::debrief {

namespace {

constexpr float kHalfMark = 5;  // of the triangle
constexpr float kBeside = 10;   // from its middle to its words
constexpr float kBetween = 12;  // from one note to the next

/// Words at the right of their triangle, else at its left, else the triangle alone; nothing where
/// not even that is free.
std::optional<PlacedNote> fit(PlacedNote note, float free_from, float end) {
  if (note.mark_x - kHalfMark < free_from) return std::nullopt;
  note.words_x = note.mark_x + kBeside;
  if (note.right() <= end) return note;
  note.words_x = note.mark_x - kBeside - note.width;
  if (note.left() >= free_from) return note;
  return std::nullopt;
}

}  // namespace

float PlacedNote::left() const {
  return words.empty() ? mark_x - kHalfMark : std::min(mark_x - kHalfMark, words_x);
}
float PlacedNote::right() const {
  return words.empty() ? mark_x + kHalfMark : std::max(mark_x + kHalfMark, words_x + width);
}

std::vector<PlacedNote> place_notes(const std::vector<NoteMark>& notes, const TimeAxis& axis,
                                    int rows,
                                    const std::function<float(std::string_view)>& measure) {
  std::vector<PlacedNote> placed;
  const float begin = axis.x - kHalfMark;
  const float end = axis.x + axis.w + kHalfMark;
  // Where a row is free behind everything but the item left out.
  const auto free_in = [&](int row, std::size_t without) {
    float from = begin;
    for (std::size_t i = 0; i < placed.size(); ++i) {
      if (i != without && placed[i].row == row) from = std::max(from, placed[i].right() + kBetween);
    }
    return from;
  };
  for (const NoteMark& mark : notes) {
    const auto ms = static_cast<double>(mark.at_ms);
    if (ms < axis.from_ms || ms > axis.to_ms) continue;
    PlacedNote note;
    note.words = fmt::format("you wrote “{}”", mark.words);
    note.width = measure(note.words);
    note.mark_x = axis.x_at(ms);
    std::optional<PlacedNote> fits;
    for (int row = 0; row < rows && !fits; ++row) {
      note.row = row;
      fits = fit(note, free_in(row, placed.size()), end);
    }
    if (!fits && placed.empty()) {
      note.row = 0;
      note.words.clear();
      fits = note;
    }
    if (fits) {
      placed.push_back(*fits);
      continue;
    }
    // The last one takes it in, in whichever row its words fit now.
    PlacedNote merged = placed.back();
    const std::size_t last = placed.size() - 1;
    ++merged.count;
    merged.words = fmt::format("you wrote {} entries", merged.count);
    merged.width = measure(merged.words);
    for (int row = 0; row < rows && !fits; ++row) {
      merged.row = row;
      fits = fit(merged, free_in(row, last), end);
    }
    if (!fits) {
      fits = placed.back();
      fits->count = merged.count;
      fits->words.clear();
    }
    placed.back() = *fits;
  }
  return placed;
}

void draw_notes(Ui& ui, const Rect& r, const TimeAxis& axis, const DebriefModel& model, int rows) {
  const auto measure = [&](std::string_view words) {
    return ui.measure_text(TextStyle::small, words);
  };
  for (const PlacedNote& note : place_notes(model.notes, axis, rows, measure)) {
    const float top = r.y + 3 + static_cast<float>(note.row) * kNoteRow;
    const float x = note.mark_x;
    const float y = top + 9;
    ui.polygon({{x, y - 5}, {x + kHalfMark, y + 4}, {x - kHalfMark, y + 4}}, Token::ink2);
    if (!note.words.empty()) {
      ui.text({note.words_x, top}, TextStyle::small, Token::ink2, note.words);
    }
  }
}

}  // namespace redress::screens::debrief
