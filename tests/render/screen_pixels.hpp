// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Pictures of whole screens read back, and contrast measured in their pixels: WCAG 2.1, "contrast
// ratio" and "relative luminance" (https://www.w3.org/TR/WCAG21/).
#pragma once

#include <algorithm>
#include <array>
#include <cstdint>
#include <map>
#include <optional>
#include <string>

#include "render/draw/png.hpp"
#include "render/screens/parts/tokens.hpp"

namespace redress::test {

/// None: no picture of three bytes a pixel.
std::optional<draw::Pixels> read_png(const std::string& path);

using Colour = std::array<std::uint8_t, 3>;

inline double calc_contrast(Colour a, Colour b) {
  const double x = screens::calc_luminance({a[0], a[1], a[2]});
  const double y = screens::calc_luminance({b[0], b[1], b[2]});
  return (std::max(x, y) + 0.05) / (std::min(x, y) + 0.05);
}

struct PixelBox {
  int x = 0;
  int y = 0;
  int w = 0;
  int h = 0;
  [[nodiscard]] bool overlaps(const PixelBox& o) const {
    return x < o.x + o.w && o.x < x + w && y < o.y + o.h && o.y < y + h;
  }
};

inline PixelBox clip(const PixelBox& box, const draw::Pixels& p) {
  const int left = std::clamp(box.x, 0, p.width);
  const int top = std::clamp(box.y, 0, p.height);
  return {left, top, std::clamp(box.x + box.w, left, p.width) - left,
          std::clamp(box.y + box.h, top, p.height) - top};
}

/// The colour that most pixels have, and how large a part of them.
struct Ground {
  Colour colour{};
  double part = 0;
};
inline Ground find_ground(const draw::Pixels& p, const PixelBox& box) {
  std::map<Colour, int> count;
  for (int y = box.y; y < box.y + box.h; ++y) {
    for (int x = box.x; x < box.x + box.w; ++x) ++count[p.at(x, y)];
  }
  Ground ground;
  for (const auto& [colour, n] : count) {
    const double part = static_cast<double>(n) / (box.w * box.h);
    if (part > ground.part) ground = {colour, part};
  }
  return ground;
}

/// Of the strokes in a box against what they stand on: that of the pixel that a stroke covers most.
inline double measure_text(const draw::Pixels& p, const PixelBox& box, const Ground& ground) {
  double most = 1;
  for (int y = box.y; y < box.y + box.h; ++y) {
    for (int x = box.x; x < box.x + box.w; ++x) {
      most = std::max(most, calc_contrast(p.at(x, y), ground.colour));
    }
  }
  return most;
}

/// Of the line around a box against what lies inside and outside it: the lesser of the two, at the
/// side where nothing else is in the way.
inline double measure_outline(const draw::Pixels& p, const PixelBox& box, int stroke) {
  double best = 1;
  const auto side = [&](int x, int y, int dx, int dy) {
    const auto at = [&](int k) { return p.at(x + dx * k, y + dy * k); };
    for (const int k : {-(stroke + 2), stroke + 2}) {
      if (x + dx * k < 0 || y + dy * k < 0 || x + dx * k >= p.width || y + dy * k >= p.height) {
        return;
      }
    }
    double most = 1;
    for (int k = -1; k <= stroke; ++k) {
      const double outside = calc_contrast(at(k), at(-(stroke + 2)));
      const double inside = calc_contrast(at(k), at(stroke + 2));
      most = std::max(most, std::min(outside, inside));
    }
    best = std::max(best, most);
  };
  side(box.x, box.y + box.h / 2, 1, 0);
  side(box.x + box.w - 1, box.y + box.h / 2, -1, 0);
  side(box.x + box.w / 3, box.y, 0, 1);
  side(box.x + box.w / 3, box.y + box.h - 1, 0, -1);
  return best;
}

}  // namespace redress::test
