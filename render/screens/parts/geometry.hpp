// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Places on a screen. Unless something else is said, lengths are units: pixels at scale 1, which
// the Ui multiplies by the scale. Origin at the top left of the window, x right, y down.
#pragma once

#include <algorithm>

namespace redress::screens {

struct Point {
  float x = 0;
  float y = 0;
  bool operator==(const Point&) const = default;
};

struct Rect {
  float x = 0;
  float y = 0;
  float w = 0;
  float h = 0;
  bool operator==(const Rect&) const = default;

  [[nodiscard]] constexpr float right() const { return x + w; }
  [[nodiscard]] constexpr float bottom() const { return y + h; }
  [[nodiscard]] constexpr Point centre() const { return {x + w / 2, y + h / 2}; }
  [[nodiscard]] constexpr bool empty() const { return w <= 0 || h <= 0; }
  [[nodiscard]] constexpr bool contains(Point p) const {
    return p.x >= x && p.x < right() && p.y >= y && p.y < bottom();
  }
  /// Whether more than an edge is shared.
  [[nodiscard]] constexpr bool overlaps(const Rect& other) const {
    return !empty() && !other.empty() && x < other.right() && other.x < right() &&
           y < other.bottom() && other.y < bottom();
  }
  /// Whether `other` lies inside, give or take `slack`.
  [[nodiscard]] constexpr bool holds(const Rect& other, float slack = 0.0F) const {
    return other.x >= x - slack && other.y >= y - slack && other.right() <= right() + slack &&
           other.bottom() <= bottom() + slack;
  }
  /// Smaller by so much on each side; never below nothing.
  [[nodiscard]] constexpr Rect inset(float across, float down) const {
    return {x + across, y + down, std::max(0.0F, w - 2 * across), std::max(0.0F, h - 2 * down)};
  }
  [[nodiscard]] constexpr Rect inset(float all) const { return inset(all, all); }
  [[nodiscard]] constexpr Rect moved(float dx, float dy) const { return {x + dx, y + dy, w, h}; }

  /// Cuts a piece off and returns it; the rest stays here.
  constexpr Rect cut_top(float height) {
    const float taken = std::clamp(height, 0.0F, std::max(0.0F, h));
    const Rect piece{x, y, w, taken};
    y += taken;
    h -= taken;
    return piece;
  }
  constexpr Rect cut_bottom(float height) {
    const float taken = std::clamp(height, 0.0F, std::max(0.0F, h));
    h -= taken;
    return {x, y + h, w, taken};
  }
  constexpr Rect cut_left(float width) {
    const float taken = std::clamp(width, 0.0F, std::max(0.0F, w));
    const Rect piece{x, y, taken, h};
    x += taken;
    w -= taken;
    return piece;
  }
  constexpr Rect cut_right(float width) {
    const float taken = std::clamp(width, 0.0F, std::max(0.0F, w));
    w -= taken;
    return {x + w, y, taken, h};
  }
};

/// What both have in common; empty if nothing.
constexpr Rect calc_overlap(const Rect& a, const Rect& b) {
  const float x = std::max(a.x, b.x);
  const float y = std::max(a.y, b.y);
  return {x, y, std::max(0.0F, std::min(a.right(), b.right()) - x),
          std::max(0.0F, std::min(a.bottom(), b.bottom()) - y)};
}

}  // namespace redress::screens
