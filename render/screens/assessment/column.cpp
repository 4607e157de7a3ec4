// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/screens/assessment/column.hpp"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

namespace redress::screens::assessment {

namespace {
constexpr float kEndless = 1e5F;
constexpr float kRoom = 3;  // for rings and outlines, which stand outside what they are around
}  // namespace

// Nothing here depends on how high the page was in the frame before but how far it scrolls: a page
// that has just come stands where it stays.
Column::Column(Ui& ui, const Rect& area, float widest, PageState& state, bool lowered)
    : ui_(ui), state_(state) {
  constexpr float kBar = 14;  // of scrolling, whether there is one or not
  constexpr float kLow = 480;
  constexpr float kShareAbove = 0.08F;
  const float above = lowered && area.h > kLow ? std::round(area.h * kShareAbove) : 0;
  const float up = ui.begin_scroll("page", area, state.height, ScrollKeys::always);
  const float free = area.w - kBar - 2 * kRoom;
  const float width = std::min(widest, free);
  top_ = area.y - up;
  rest_ = {std::round(area.x + kRoom + std::max(0.0F, (free - width) / 2)), top_ + above + kRoom,
           width, kEndless};
}

void Column::title(std::string_view words) {
  const float height = ui_.measure_paragraph(rest_.w, TextStyle::head, words);
  ui_.paragraph(row(height), TextStyle::head, Token::ink, words);
  space(8);
}

void Column::head(std::string_view words) {
  space(12);
  ui_.text_in(row(26), TextStyle::subhead, Token::ink, words);
  space(4);
}

void Column::words(std::string_view words, TextStyle style, Token token) {
  const float height = ui_.measure_paragraph(rest_.w, style, words);
  ui_.paragraph(row(height), style, token, words);
  space(8);
}

Rect Column::row(float height) { return rest_.cut_top(height); }

Rect Column::labelled(std::string_view label, float height) {
  constexpr float kLabel = 172;
  if (narrow()) {
    ui_.text_in(row(22), TextStyle::strong, Token::ink, label);
    const Rect value = row(height);
    space(8);
    return value;
  }
  Rect line = row(height);
  space(10);
  ui_.text_in(line.cut_left(kLabel), TextStyle::strong, Token::ink, label);
  return line;
}

void Column::numbered(std::span<const std::string> texts) {
  constexpr float kNumber = 28;
  for (std::size_t i = 0; i < texts.size(); ++i) {
    const float height = ui_.measure_paragraph(rest_.w - kNumber, TextStyle::body, texts[i]);
    Rect line = row(height);
    ui_.text({line.x, line.y}, TextStyle::body, Token::ink2, fmt::format("{}", i + 1));
    line.cut_left(kNumber);
    ui_.paragraph(line, TextStyle::body, Token::ink, texts[i]);
    space(6);
  }
}

void Column::trouble(std::string_view words) {
  if (words.empty()) return;
  constexpr float kSign = 26;
  const float height = ui_.measure_paragraph(rest_.w - kSign, TextStyle::body, words);
  Rect line = row(height);
  icon(ui_, Icon::caution, {line.x + 9, line.y + 11}, Token::care, 16);
  line.cut_left(kSign);
  ui_.paragraph(line, TextStyle::body, Token::care, words);
  space(8);
}

int Column::buttons(std::initializer_list<std::string_view> labels, bool available) {
  space(8);
  constexpr float kHigh = 38;
  constexpr float kGap = 12;
  Rect line = row(kHigh);
  const float from = line.x;
  int clicked = -1;
  int index = 0;
  for (const std::string_view label : labels) {
    ButtonLook look;
    if (index == 0) look.kind = ButtonKind::main;
    if (index == 0) look.available = available;
    const float width = measure_button(ui_, label, look);
    if (line.w < width && line.x > from) {
      space(8);
      line = row(kHigh);
    }
    if (button(ui_, line.cut_left(width), label, look)) clicked = index;
    line.cut_left(kGap);
    ++index;
  }
  space(8);
  return clicked;
}

void Column::end() {
  state_.height = rest_.y - top_ + kRoom;
  ui_.end_scroll();
}

}  // namespace redress::screens::assessment
