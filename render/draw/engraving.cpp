// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/draw/engraving.hpp"

#include <cstdio>
#include <string_view>

#include "render/face/maths.hpp"
#include "render/face/noise.hpp"

namespace redress::draw {
namespace {

using glm::vec2;

constexpr int kCellWidth = 32;
constexpr int kCellHeight = 48;

/// Points of one stroke in a cell 4 wide and 6 high, origin at its lower left.
using Stroke = std::vector<vec2>;

void add_arc(Stroke& s, vec2 centre, vec2 radius, float from_deg, float to_deg) {
  constexpr int kParts = 14;
  for (int k = 0; k <= kParts; ++k) {
    const float a = glm::radians(glm::mix(from_deg, to_deg, static_cast<float>(k) / kParts));
    s.push_back(centre + radius * vec2(std::cos(a), std::sin(a)));
  }
}

std::vector<Stroke> make_strokes(int glyph) {
  Stroke s;
  Stroke t;
  switch (glyph) {
    case 0: add_arc(s, {2, 3}, {1.25F, 2.1F}, 0, 360); break;
    case 1: s = {{1.2F, 4.3F}, {2.1F, 5.1F}, {2.1F, 0.9F}}; break;
    case 2:
      add_arc(s, {2, 3.9F}, {1.2F, 1.2F}, 165, -35);
      s.insert(s.end(), {{0.8F, 0.9F}, {3.3F, 0.9F}});
      break;
    case 3:
      add_arc(s, {1.9F, 4.1F}, {1.05F, 1.0F}, 150, -90);
      add_arc(t, {1.9F, 2.05F}, {1.25F, 1.1F}, 90, -150);
      break;
    case 4: s = {{2.6F, 0.9F}, {2.6F, 5.1F}, {0.7F, 2.1F}, {3.3F, 2.1F}}; break;
    case 5:
      s = {{3.0F, 5.1F}, {1.1F, 5.1F}, {0.95F, 3.2F}};
      add_arc(s, {1.95F, 2.25F}, {1.3F, 1.35F}, 130, -145);
      break;
    case 6:
      add_arc(s, {2, 2.2F}, {1.25F, 1.3F}, 0, 360);
      t = {{2.7F, 5.1F}, {1.4F, 3.7F}, {0.78F, 2.4F}};
      break;
    case 7: s = {{0.8F, 5.1F}, {3.2F, 5.1F}, {1.6F, 0.9F}}; break;
    case 8:
      add_arc(s, {2, 4.1F}, {1.0F, 1.0F}, 0, 360);
      add_arc(t, {2, 2.0F}, {1.25F, 1.1F}, 0, 360);
      break;
    case 9:
      add_arc(s, {2, 3.8F}, {1.25F, 1.3F}, 0, 360);
      t = {{1.3F, 0.9F}, {2.6F, 2.3F}, {3.22F, 3.6F}};
      break;
    default: s = {{2.0F, 0.95F}, {2.0F, 1.0F}}; break;
  }
  std::vector<Stroke> out{s};
  if (!t.empty()) out.push_back(t);
  return out;
}

float calc_distance(const std::vector<Stroke>& strokes, vec2 p) {
  float least = 9;
  for (const Stroke& s : strokes) {
    for (std::size_t k = 0; k + 1 < s.size(); ++k) {
      const vec2 d = s[k + 1] - s[k];
      const float t = std::clamp(glm::dot(p - s[k], d) / glm::dot(d, d), 0.0F, 1.0F);
      least = std::min(least, glm::length(p - s[k] - t * d));
    }
  }
  return least;
}

}  // namespace

gl::TextureHandle make_engraving() {
  face::Image image(kCellWidth * kGlyphs, kCellHeight);
  for (int glyph = 0; glyph < kGlyphs; ++glyph) {
    const std::vector<Stroke> strokes = make_strokes(glyph);
    for (int y = 0; y < kCellHeight; ++y) {
      for (int x = 0; x < kCellWidth; ++x) {
        const vec2 p((static_cast<float>(x) + 0.5F) * 4 / kCellWidth,
                     (static_cast<float>(y) + 0.5F) * 6 / kCellHeight);
        constexpr float kHalfStroke = 0.28F;
        const float d = kHalfStroke - calc_distance(strokes, p);
        image.at(glyph * kCellWidth + x, y)[0] = face::to_byte(0.5F + 0.5F * d);
      }
    }
  }
  return gl::make_texture(image.width, image.height, gl::kBytes, image.rgba.data(), {});
}

std::array<int, 4> make_label(double power_pd) {
  std::array<int, 4> out;
  out.fill(kNoGlyph);
  if (power_pd <= 0 || power_pd >= 1000) return out;
  std::array<char, 16> text{};
  const bool whole = std::abs(power_pd - std::round(power_pd)) < 0.05;
  std::snprintf(text.data(), text.size(), "%.*f", whole ? 0 : 1, power_pd);
  const std::string_view digits(text.data());
  for (std::size_t k = 0; k < digits.size() && k < out.size(); ++k) {
    out[k] = digits[k] == '.' ? 10 : digits[k] - '0';
  }
  return out;
}

}  // namespace redress::draw
