// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/screens/study_bar.hpp"

#include <algorithm>
#include <array>

namespace redress::screens {

namespace {

constexpr std::array<std::string_view, 4> kTabs{"Cases", "Train the eye", "Progress", "Assessment"};
constexpr std::array<std::string_view, 4> kShortTabs{"Cases", "Train", "Progress", "Assess"};

/// As much of a name as fits: all of it, else the first part and an initial, else the first part.
std::string shorten_name(const Ui& ui, const std::string& name, float width) {
  if (ui.measure_text(TextStyle::strong, name) <= width) return name;
  const std::size_t end = name.find(' ');
  const std::size_t last = name.rfind(' ');
  if (end == std::string::npos) return name;
  // An initial of more than one byte stays whole.
  std::size_t initial = last + 2;
  while (initial < name.size() && (static_cast<unsigned char>(name[initial]) & 0xC0U) == 0x80U) {
    ++initial;
  }
  const std::string first = name.substr(0, end);
  const std::string with = first + " " + name.substr(last + 1, initial - last - 1) + ".";
  return ui.measure_text(TextStyle::strong, with) <= width ? with : first;
}

bool draw_user(Ui& ui, Rect& r, const StudyBar& bar) {
  const float role_width = ui.measure_text(TextStyle::body, bar.role);
  const std::string user =
      shorten_name(ui, bar.user.empty() ? "No name given" : bar.user, r.w - role_width - 24);
  const float wide = ui.measure_text(TextStyle::strong, user) + 8 + role_width + 16;
  const Rect me = Rect{r.cut_right(std::min(wide, r.w))}.inset(0, 8);
  const Touch touch = ui.touch("user", me, user, PartKind::button);
  if (touch.hovered) ui.fill(me, Token::well, kRadiusButton);
  if (touch.focused) ui.focus_ring(me, kRadiusButton);
  Rect words = me.inset(6, 0);
  ui.text_in(words.cut_right(role_width), TextStyle::body, Token::ink2, bar.role);
  words.cut_right(8);
  ui.text_in(words, TextStyle::strong, Token::ink, user);
  return touch.clicked;
}

bool draw_aside(Ui& ui, Rect r, const StudyBar& bar) {
  const float size = ui.measure_text(TextStyle::small, bar.aside) + 20;
  if (bar.aside.empty() || size + 16 > r.w) return false;
  r.cut_right(12);
  ui.line({r.right(), r.centre().y - 12}, {r.right(), r.centre().y + 12}, Token::line);
  r.cut_right(4);
  const Rect known = Rect{r.cut_right(size)}.inset(0, 10);
  bool clicked = false;
  if (bar.aside_is_button) {
    const Touch measure = ui.touch("calibration", known, bar.aside, PartKind::button);
    if (measure.hovered) ui.fill(known, Token::well, kRadiusButton);
    if (measure.focused) ui.focus_ring(known, kRadiusButton);
    clicked = measure.clicked;
  }
  ui.text_in(known.inset(6, 0), TextStyle::small, Token::ink2, bar.aside, Align::right);
  return clicked;
}

}  // namespace

StudyBarOutcome draw_study_bar(Ui& ui, const StudyLayout& layout, const StudyBar& bar) {
  StudyBarOutcome outcome;
  ui.begin_region("bar", layout.bar, Token::sheet);
  const Rect& all = layout.bar;
  ui.line({all.x, all.bottom() - 1}, {all.right(), all.bottom() - 1}, Token::line);
  Rect r = all.inset(layout.compact ? 8 : 20, 0);
  if (!layout.compact) {
    const float name = ui.measure_text(TextStyle::subhead, "Redress");
    ui.text_in(r.cut_left(name), TextStyle::subhead, Token::ink, "Redress");
    r.cut_left(16);
    ui.line({r.x, r.centre().y - 12}, {r.x, r.centre().y + 12}, Token::line);
    r.cut_left(12);
  }
  const auto& words = layout.compact ? kShortTabs : kTabs;
  if (const auto pick = tabs(ui, r, "screens", words, static_cast<std::size_t>(bar.tab))) {
    outcome.tab = static_cast<StudyTab>(*pick);
  }
  r.cut_left(measure_tabs(ui, words) + 12);
  outcome.change_user = draw_user(ui, r, bar);
  if (!layout.compact) outcome.aside = draw_aside(ui, r, bar);
  ui.end_region();
  return outcome;
}

}  // namespace redress::screens
