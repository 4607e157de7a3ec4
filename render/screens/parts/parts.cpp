// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/screens/parts/parts.hpp"

#include <algorithm>

namespace redress::screens {

namespace {

constexpr float kPad = 14;        // beside the words of a button
constexpr float kOptionPad = 11;  // beside the words of an option
constexpr float kGap = 8;
constexpr float kIcon = 16;
constexpr float kCapHeight = 20;

TextStyle style_of_button(const Rect& r) {
  return r.h < 32 ? TextStyle::small_strong : TextStyle::strong;
}

struct Dress {
  Token ground = Token::sheet;
  Token edge = Token::edge;
  Token words = Token::ink;
};

Dress dress_of(const ButtonLook& look, const Touch& touch) {
  const bool pressed = touch.held && touch.hovered;
  if (!look.available) return {Token::sheet, Token::line, Token::ink3};
  if (look.kind == ButtonKind::main) return {Token::act, Token::act, Token::on_act};
  Dress dress;
  if (look.kind == ButtonKind::quiet) dress.words = Token::act;
  if (touch.hovered) dress.ground = Token::well;
  if (pressed) dress.ground = Token::chosen;
  return dress;
}

}  // namespace

float measure_key_cap(const Ui& ui, std::string_view letter) {
  return std::max(kCapHeight, ui.measure_text(TextStyle::small, letter) + 10);
}

float key_cap(Ui& ui, Point at, std::string_view letter) {
  const Rect r{at.x, at.y - kCapHeight / 2, measure_key_cap(ui, letter), kCapHeight};
  ui.outline(r, Token::edge, 1, kRadiusKey);
  ui.text_in(r, TextStyle::small, Token::ink2, letter, Align::centre);
  return r.w;
}

float measure_button(const Ui& ui, std::string_view label, const ButtonLook& look) {
  float width = 2 * kPad + ui.measure_text(TextStyle::strong, label);
  if (look.icon != Icon::none) width += kIcon + (label.empty() ? 0 : kGap);
  if (!look.key.empty()) width += kGap + measure_key_cap(ui, look.key);
  return width;
}

bool button(Ui& ui, const Rect& r, std::string_view label, const ButtonLook& look) {
  const std::string_view id = look.id.empty() ? label : look.id;
  const Touch touch = ui.touch(id, r, label, PartKind::button, look.available);
  const Dress dress = dress_of(look, touch);
  const bool bare = look.kind == ButtonKind::quiet && look.available && !touch.hovered;
  if (!bare) ui.fill(r, dress.ground, kRadiusButton);
  if (look.kind != ButtonKind::quiet) ui.outline(r, dress.edge, 1, kRadiusButton);
  // The main button is its own ground: an inner ring says that it is pressed.
  if (look.kind == ButtonKind::main && touch.held && touch.hovered) {
    ui.outline(r.inset(3), Token::on_act, 1, kRadiusKey);
  }
  if (touch.focused) ui.focus_ring(r, kRadiusButton);
  if (!look.available && touch.hovered) ui.hint(r, look.why_not);

  const TextStyle style = style_of_button(r);
  const float words = ui.measure_text(style, label);
  const float before = look.icon == Icon::none ? 0 : kIcon + (label.empty() ? 0 : kGap);
  const float after = look.key.empty() ? 0 : kGap + measure_key_cap(ui, look.key);
  Rect inner = r.inset(std::min(kPad, r.w / 8), 0);
  const float free = std::max(0.0F, inner.w - before - words - after);
  inner.x += free / 2;
  inner.w -= free;
  const float y = r.centre().y;
  const bool onwards = look.icon == Icon::forward;  // the one sign that stands after its word
  if (look.icon != Icon::none) {
    const float x = onwards ? inner.right() - after - kIcon / 2 : inner.x + kIcon / 2;
    icon(ui, look.icon, {x, y}, dress.words, kIcon);
  }
  if (!onwards) inner.x += before;
  inner.w -= before + after;
  ui.text_in({inner.x, r.y, inner.w, r.h}, style, dress.words, label);
  if (!look.key.empty()) key_cap(ui, {inner.right() + (onwards ? before : 0) + kGap, y}, look.key);
  return touch.clicked;
}

float measure_one_of_few(const Ui& ui, std::span<const std::string_view> options) {
  float width = 0;
  for (const std::string_view option : options) {
    width += 2 * kOptionPad + ui.measure_text(TextStyle::small_strong, option);
  }
  return width;
}

std::optional<std::size_t> one_of_few(Ui& ui, const Rect& r, std::string_view id,
                                      std::span<const std::string_view> options,
                                      std::optional<std::size_t> chosen, bool available) {
  std::optional<std::size_t> picked;
  if (options.empty()) return picked;
  const float natural = measure_one_of_few(ui, options);
  const float whole = r.w > 0 ? r.w : natural;
  // Spare width is shared; with too little each shrinks in proportion.
  const float each_more =
      whole > natural ? (whole - natural) / static_cast<float>(options.size()) : 0;
  const float shrink = whole < natural ? whole / natural : 1;
  const Rect group{r.x, r.y, whole, r.h};
  const Touch keys = available ? ui.focus_only(id, group) : Touch{};
  if (keys.right_key) {
    picked = chosen ? std::min(*chosen + 1, options.size() - 1) : 0;
  }
  if (keys.left_key) picked = chosen && *chosen > 0 ? *chosen - 1 : 0;

  ui.fill(group, Token::sheet, kRadiusButton);
  ui.push_id(id);
  float x = r.x;
  for (std::size_t i = 0; i < options.size(); ++i) {
    const float words = ui.measure_text(TextStyle::small_strong, options[i]);
    const float width = (2 * kOptionPad + words) * shrink + each_more;
    const Rect cell{x, r.y, width, r.h};
    const Touch touch =
        ui.touch_unfocused(options[i], cell, options[i], PartKind::choice, available);
    const bool on = chosen == i;
    const bool pressed = touch.held && touch.hovered;
    if (on || pressed || touch.hovered) {
      ui.fill_ends(cell.inset(1), on || pressed ? Token::chosen : Token::well, kRadiusButton - 1,
                   i == 0, i + 1 == options.size());
    }
    if (on) ui.fill({cell.x + 4, cell.bottom() - 3, cell.w - 8, kChosenLine}, Token::act);
    if (i > 0) ui.line({x, r.y + 1}, {x, r.bottom() - 1}, Token::line);
    const float pad = std::max(3.0F, (width - words) / 2 - 1);
    ui.text_in({cell.x + pad, cell.y, cell.w - 2 * pad, cell.h},
               on ? TextStyle::small_strong : TextStyle::small,
               !available ? Token::ink3
               : on       ? Token::ink
                          : Token::ink2,
               options[i], Align::centre);
    if (touch.clicked) picked = i;
    x += width;
  }
  ui.pop_id();
  ui.outline(group, available ? Token::edge : Token::line, 1, kRadiusButton);
  if (keys.focused) ui.focus_ring(group, kRadiusButton);
  if (picked && picked == chosen) picked.reset();
  return picked;
}

float measure_chip(const Ui& ui, std::string_view label, const ChipLook& look) {
  float width = 2 * kOptionPad + ui.measure_text(TextStyle::strong, label);
  if (look.done) width += kIcon + 4;
  if (!look.key.empty()) width += kGap + measure_key_cap(ui, look.key);
  return width;
}

bool chip(Ui& ui, const Rect& r, std::string_view label, const ChipLook& look) {
  const std::string_view id = look.id.empty() ? label : look.id;
  const Touch touch = ui.touch(id, r, label, PartKind::choice, look.available);
  const bool pressed = touch.held && touch.hovered;
  const Token ground = look.chosen || pressed ? Token::chosen
                       : touch.hovered        ? Token::well
                                              : Token::sheet;
  ui.fill(r, ground, kRadiusButton);
  ui.outline(r,
             look.chosen      ? Token::act
             : look.available ? Token::edge
                              : Token::line,
             1, kRadiusButton);
  if (touch.focused) ui.focus_ring(r, kRadiusButton);
  const bool small = r.h < 30;
  const TextStyle style = look.chosen ? (small ? TextStyle::small_strong : TextStyle::strong)
                                      : (small ? TextStyle::small : TextStyle::body);
  const Token words = look.available ? Token::ink : Token::ink3;
  const float cap = look.key.empty() ? 0 : kGap + measure_key_cap(ui, look.key);
  const float done = look.done ? kIcon + 4 : 0;
  const float width = ui.measure_text(style, label);
  const float pad = std::max(4.0F, (r.w - width - cap - done) / 2);
  if (look.done) icon(ui, Icon::check, {r.x + pad + kIcon / 2, r.centre().y}, words, kIcon);
  const Rect inner{r.x + pad + done, r.y, r.w - 2 * pad - done - cap, r.h};
  ui.text_in(inner, style, words, label);
  if (cap > 0) key_cap(ui, {inner.right() + kGap, r.centre().y}, look.key);
  return touch.clicked;
}

namespace {

Rect begin_mark(Ui& ui, const Rect& r, const Touch& touch, std::string_view label) {
  constexpr float kBox = 18;
  const Rect box{r.x + 4, r.centre().y - kBox / 2, kBox, kBox};
  if (touch.hovered) ui.fill(r, Token::well, kRadiusButton);
  if (touch.focused) ui.focus_ring(r, kRadiusButton);
  ui.text_in({box.right() + 10, r.y, r.right() - box.right() - 14, r.h}, TextStyle::body,
             Token::ink, label);
  return box;
}

}  // namespace

bool check(Ui& ui, const Rect& r, std::string_view label, bool on, std::string_view id) {
  const Touch touch = ui.touch(id.empty() ? label : id, r, label, PartKind::choice);
  const Rect box = begin_mark(ui, r, touch, label);
  ui.fill(box, on ? Token::act : Token::sheet, kRadiusKey);
  ui.outline(box, on ? Token::act : Token::edge, 1, kRadiusKey);
  if (on) icon(ui, Icon::check, box.centre(), Token::on_act, 14);
  return touch.clicked;
}

bool radio(Ui& ui, const Rect& r, std::string_view label, bool on, std::string_view id) {
  const Touch touch = ui.touch(id.empty() ? label : id, r, label, PartKind::choice);
  const Rect box = begin_mark(ui, r, touch, label);
  ui.disc(box.centre(), box.w / 2, Token::sheet);
  ui.ring(box.centre(), box.w / 2 - 0.5F, on ? Token::act : Token::edge, on ? 2 : 1);
  if (on) ui.disc(box.centre(), 4.5F, Token::act);
  return touch.clicked;
}

namespace {
constexpr float kTabPad = 12;
constexpr float kTabGap = 12;
}  // namespace

float measure_tabs(const Ui& ui, std::span<const std::string_view> words) {
  float width = 0;
  for (const std::string_view word : words) {
    width += ui.measure_text(TextStyle::strong, word) + 2 * kTabPad + kTabGap;
  }
  return width - (words.empty() ? 0 : kTabGap);
}

std::optional<std::size_t> tabs(Ui& ui, const Rect& r, std::string_view id,
                                std::span<const std::string_view> words, std::size_t chosen) {
  std::optional<std::size_t> picked;
  ui.push_id(id);
  float x = r.x;
  for (std::size_t i = 0; i < words.size(); ++i) {
    const float width = ui.measure_text(TextStyle::strong, words[i]) + 2 * kTabPad;
    const Rect cell{x, r.y, width, r.h};
    const Touch touch = ui.touch(words[i], cell, words[i], PartKind::choice);
    const bool on = i == chosen;
    if (touch.hovered && !on) ui.fill(cell.inset(0, 6), Token::well, kRadiusButton);
    ui.text_in(cell.inset(2, 0), on ? TextStyle::strong : TextStyle::body,
               on ? Token::ink : Token::ink2, words[i], Align::centre);
    if (on) ui.fill({cell.x, r.bottom() - kChosenLine, width, kChosenLine}, Token::act);
    if (touch.focused) ui.focus_ring(cell.inset(4, 8), kRadiusButton);
    if (touch.clicked && !on) picked = i;
    x += width + kTabGap;
  }
  ui.pop_id();
  return picked;
}

void sheet(Ui& ui, const Rect& r) {
  ui.fill(r, Token::sheet, kRadiusSheet);
  ui.outline(r, Token::line, 1, kRadiusSheet);
}

bool choice_card(Ui& ui, const Rect& r, std::string_view title, std::string_view key,
                 std::string_view words, bool chosen) {
  const Touch touch = ui.touch(title, r, title, PartKind::choice);
  const bool pressed = touch.held && touch.hovered;
  ui.fill(r,
          chosen || pressed ? Token::chosen
          : touch.hovered   ? Token::well
                            : Token::sheet,
          kRadiusSheet);
  ui.outline(r, chosen ? Token::act : Token::line, chosen ? 2 : 1, kRadiusSheet);
  if (touch.focused) ui.focus_ring(r, kRadiusSheet);
  Rect inner = r.inset(16, 14);
  Rect head = inner.cut_top(26);
  if (!key.empty()) {
    const float cap = measure_key_cap(ui, key);
    key_cap(ui, {head.right() - cap, head.centre().y}, key);
    head.cut_right(cap + kGap);
  }
  ui.text_in(head, TextStyle::subhead, Token::ink, title);
  inner.cut_top(6);
  if (inner.h >= 22) ui.paragraph(inner, TextStyle::body, Token::ink2, words);
  return touch.clicked;
}

bool list_row(Ui& ui, const Rect& r, std::string_view id, std::string_view label, bool chosen) {
  const Touch touch = ui.touch(id, r, label, PartKind::button);
  if (chosen || (touch.held && touch.hovered)) {
    ui.fill(r, Token::chosen);
  } else if (touch.hovered) {
    ui.fill(r, Token::well);
  }
  if (touch.focused) ui.outline(r.inset(2), Token::act, kRing, kRadiusButton);
  return touch.clicked;
}

}  // namespace redress::screens
