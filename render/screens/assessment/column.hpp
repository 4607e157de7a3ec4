// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// A page that is read from top to bottom: heads, paragraphs, fields with their labels, buttons, one
// under another, in a column that scrolls where the window is low.
#pragma once

#include <initializer_list>
#include <span>
#include <string>
#include <string_view>

#include "render/screens/parts/parts.hpp"

namespace redress::screens::assessment {

/// Kept between frames, so that what is higher than the window can be scrolled.
struct PageState {
  float height = 400;
};

class Column {
 public:
  /// Inside a region. `widest`: of the column, which stands in the middle of `area`; `lowered`:
  /// with some room over it where the window is high.
  Column(Ui& ui, const Rect& area, float widest, PageState& state, bool lowered = true);
  /// What is left of the column, from here down.
  [[nodiscard]] const Rect& rest() const { return rest_; }
  [[nodiscard]] bool narrow() const { return rest_.w < 520; }
  void title(std::string_view words);
  void head(std::string_view words);
  void words(std::string_view words, TextStyle style = TextStyle::body, Token token = Token::ink);
  void space(float height) { rest_.cut_top(height); }
  Rect row(float height);
  /// A label beside, in a narrow column above, what is returned.
  Rect labelled(std::string_view label, float height = 36);
  /// In a column, each text with its number.
  void numbered(std::span<const std::string> texts);
  /// In care with a sign; nothing if empty.
  void trouble(std::string_view words);
  /// A row of buttons from the left; the first is the main one. Returns which was clicked; -1 none.
  int buttons(std::initializer_list<std::string_view> labels, bool available = true);
  void end();

 private:
  Ui& ui_;
  PageState& state_;
  Rect rest_;
  float top_ = 0;
};

}  // namespace redress::screens::assessment
