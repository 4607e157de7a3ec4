// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/screens/parts/room_parts.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace redress::screens {

namespace {

constexpr float kPad = 14;

void draw_keys(Ui& ui, Rect& head, const PlaceLook& look) {
  if (look.compact) {
    std::string all;
    for (const std::string_view key : look.keys) {
      if (!all.empty()) all += ' ';
      all += key;
    }
    const float width = ui.measure_text(TextStyle::small, all);
    ui.text_in(head.cut_right(width), TextStyle::small, Token::ink2, all);
    head.cut_right(all.empty() ? 0 : 4);
    return;
  }
  for (auto key = look.keys.rbegin(); key != look.keys.rend(); ++key) {
    const float width = measure_key_cap(ui, *key);
    const Rect cap = head.cut_right(width);
    key_cap(ui, {cap.x, cap.centre().y}, *key);
    head.cut_right(kCapGap);
  }
}

}  // namespace

bool place(Ui& ui, const Rect& r, std::string_view id, const PlaceLook& look, Rect* drawing) {
  const bool here = look.state != PlaceState::not_here;
  const Touch touch = ui.touch(id, r, look.caption, PartKind::place, here);
  const bool open = look.state == PlaceState::open;
  ui.fill(r, open || (touch.held && touch.hovered) ? Token::chosen
             : touch.hovered && here               ? Token::well
                                                   : Token::sheet);
  if (touch.focused) ui.outline(r.inset(2), Token::act, kRing, kRadiusButton);
  constexpr float kWords = 18 + 22 + 18;
  Rect inner = r.inset(look.compact ? 8 : kPad, 0);
  inner.cut_top(look.compact ? std::max(2.0F, (r.h - 40) / 2)
                             : std::clamp((r.h - kWords) / 2 - 4, 4.0F, 12.0F));
  Rect head = inner.cut_top(18);
  if (here) draw_keys(ui, head, look);
  ui.text_in(head, TextStyle::small, open ? Token::ink2 : Token::ink3, look.caption);
  if (!look.compact && r.h > 90) inner.cut_top(2);
  ui.text_in(inner.cut_top(22), look.compact ? TextStyle::small_strong : TextStyle::strong,
             here ? Token::ink : Token::ink3, here ? look.now : "Not at this station");
  if (!look.compact && here) {
    ui.text_in(inner.cut_top(18), TextStyle::small, Token::ink2, look.detail);
    inner.cut_top(4);
    inner.cut_bottom(8);
    if (drawing != nullptr) *drawing = inner;
  }
  return touch.clicked;
}

std::optional<std::size_t> bar_drawing(Ui& ui, const Rect& r, std::string_view id,
                                       std::span<const double> steps_pd,
                                       std::optional<std::size_t> at) {
  std::optional<std::size_t> picked;
  if (steps_pd.empty() || r.empty()) return picked;
  const double most = *std::max_element(steps_pd.begin(), steps_pd.end());
  const float cell = r.w / static_cast<float>(steps_pd.size());
  ui.push_id(id);
  for (std::size_t i = 0; i < steps_pd.size(); ++i) {
    const Rect box{r.x + cell * static_cast<float>(i), r.y, cell, r.h};
    const std::string label = fmt::format("{:g}Δ", steps_pd[i]);
    const Touch touch = ui.touch_unfocused(label, box, label, PartKind::drawing);
    // The least step must still be seen as a wedge.
    const float height = r.h * (0.25F + 0.75F * static_cast<float>(steps_pd[i] / most));
    const bool here = at == i;
    if (touch.hovered) {
      ui.fill(box, Token::well, 2);
      ui.hint(box, label);
    }
    ui.polygon({{box.x + 1, r.bottom()},
                {box.right() - 1.5F, r.bottom()},
                {box.right() - 1.5F, r.bottom() - height}},
               here            ? Token::act
               : touch.hovered ? Token::edge
                               : Token::line);
    if (here) ui.fill({box.x, r.bottom() + 1, box.w - 1, kChosenLine}, Token::act);
    if (touch.clicked) picked = i;
  }
  ui.pop_id();
  return picked;
}

void distance_drawing(Ui& ui, const Rect& r, std::optional<double> distance_mm, bool band) {
  constexpr double kMost = 80;
  if (r.empty()) return;
  // Brow, nose and lip from the side, looking to the right.
  const float h = r.h;
  ui.polyline({{r.x + 3, r.y},
               {r.x + 6, r.y + 0.16F * h},
               {r.x + 5, r.y + 0.28F * h},
               {r.x + 13, r.y + 0.55F * h},
               {r.x + 12, r.y + 0.62F * h},
               {r.x + 6, r.y + 0.66F * h},
               {r.x + 8, r.y + 0.80F * h},
               {r.x + 4, r.y + h}},
              Token::edge, 1.5F);
  const float zero = r.x + 18;
  const float per_mm = (r.w - 24) / static_cast<float>(kMost);
  const float base = r.bottom() - 5;
  const auto x_at = [&](double mm) { return zero + per_mm * static_cast<float>(mm); };
  if (band) {
    const Rect zone{x_at(15), base - 3, x_at(30) - x_at(15), 6};
    ui.fill(zone, Token::chosen);
    ui.outline(zone, Token::act);
  }
  ui.line({zero, base}, {x_at(kMost), base}, Token::edge);
  for (int mm = 0; mm <= 80; mm += 20) {
    ui.line({x_at(mm), base - 3}, {x_at(mm), base + 4}, Token::edge);
  }
  const double at = std::clamp(distance_mm.value_or(kMost), 0.0, kMost);
  ui.fill({x_at(at) - 2, r.y + 1, 4, std::max(4.0F, base - r.y - 2)},
          distance_mm ? Token::ink : Token::ink3, 2);
}

void message_line(Ui& ui, const Rect& r, const Message& message, std::string_view right) {
  Rect inner = r.inset(std::min(14.0F, r.w / 40), 0);
  if (!right.empty()) {
    const float width = ui.measure_text(TextStyle::small, right);
    ui.text_in(inner.cut_right(width), TextStyle::small, Token::ink2, right);
    inner.cut_right(16);
  }
  if (message.kind == MessageKind::nothing) return;
  const bool fault = message.kind == MessageKind::fault;
  if (message.kind != MessageKind::note) {
    const Icon sign = message.kind == MessageKind::speech ? Icon::speech : Icon::caution;
    const Rect box = inner.cut_left(16);
    icon(ui, sign, box.centre(), fault ? Token::care : Token::ink2, 16);
    inner.cut_left(8);
  }
  if (!message.strong.empty()) {
    const float width = std::min(inner.w, ui.measure_text(TextStyle::strong, message.strong));
    ui.text_in(inner.cut_left(width), TextStyle::strong, Token::ink, message.strong);
    inner.cut_left(6);
  }
  ui.text_in(inner, TextStyle::body, Token::ink, message.words);
}

}  // namespace redress::screens
