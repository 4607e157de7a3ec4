// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// What light reaches each part of the resting face: how much sky its hollows see, and the soft
// shadow of brow and nose from the large lamp.
#include "render/face/maps.hpp"

namespace redress::face {
namespace {

using glm::mix;
using glm::vec2;
using glm::vec3;

constexpr int kWidth = static_cast<int>(kSkin.x1 - kSkin.x0) + 1;
constexpr int kHeight = static_cast<int>(kSkin.y1 - kSkin.y0) + 1;

class Heights {
 public:
  explicit Heights(const Lids& lids) : z_(static_cast<std::size_t>(kWidth * kHeight)) {
    for (int j = 0; j < kHeight; ++j) {
      for (int i = 0; i < kWidth; ++i) {
        const float x = kSkin.x0 + static_cast<float>(i);
        const std::size_t side = x > 0 ? 1 : 0;
        z_[static_cast<std::size_t>(j * kWidth + i)] =
            lids.skin_z(side, lids.half_ipd() - std::abs(x), kSkin.y0 + static_cast<float>(j),
                        lids.calc_rest(side));
      }
    }
  }
  [[nodiscard]] float at(float x, float y) const {
    x = std::clamp(x, 0.0F, kWidth - 1.01F);
    y = std::clamp(y, 0.0F, kHeight - 1.01F);
    const int i = static_cast<int>(x);
    const int j = static_cast<int>(y);
    const float u = x - static_cast<float>(i);
    const float v = y - static_cast<float>(j);
    const float* p = &z_[static_cast<std::size_t>(j * kWidth + i)];
    return mix(mix(p[0], p[1], u), mix(p[kWidth], p[kWidth + 1], u), v);
  }

 private:
  std::vector<float> z_;
};

float calc_sky(const Heights& z, float x, float y, float z0) {
  constexpr int kDirections = 14;
  float sky = 0;
  for (int d = 0; d < kDirections; ++d) {
    const float angle = 2 * kPi * (static_cast<float>(d) + 0.5F) / kDirections;
    const vec2 way(std::cos(angle), std::sin(angle));
    float rise = 0;
    for (float t = 1.2F; t < 34; t *= 1.45F) {
      rise = std::max(rise, (z.at(x + way.x * t, y + way.y * t) - z0) / t);
    }
    sky += 1 - rise / std::sqrt(1 + rise * rise) * mix(1.0F, 0.55F, rise > 1 ? 1.0F : 0.0F);
  }
  return std::pow(std::clamp(sky / kDirections, 0.0F, 1.0F), 1.25F);
}

float calc_lamp(const Heights& z, float x, float y, float z0, vec3 key) {
  const vec2 way = glm::normalize(vec2(key));
  const float slope = key.z / glm::length(vec2(key));
  float lit = 1;  // a large lamp: the edge of its shadow is wide
  for (float t = 1.5F; t < 46; t *= 1.22F) {
    const float over = (z.at(x + way.x * t, y + way.y * t) - (z0 + slope * t)) / t;
    lit = std::min(lit, 1 - ramp(-0.24F, 0.66F, over));
  }
  return lit;
}

}  // namespace

Image make_light_map(const scene::PatientAppearance& who, const Lids& lids, vec3 key) {
  const Heights z(lids);
  const BrowLine right(who, 0);
  const BrowLine left(who, 1);
  const Nose nose(who);
  Image out(kWidth, kHeight);
  for (int j = 0; j < kHeight; ++j) {
    for (int i = 0; i < kWidth; ++i) {
      const float fx = static_cast<float>(i);
      const float fy = static_cast<float>(j);
      const float x = kSkin.x0 + fx;
      const float y = kSkin.y0 + fy;
      const float across = std::abs(x);
      const float z0 = z.at(fx, fy) + 0.25F;
      // Round the side of the head the field of depths means nothing: the normal does the work.
      const float side = ramp(lids.half_ipd() + 23, lids.half_ipd() + 31, across);
      const float nostril = nose.calc_nostril(x / who.face_scale, y / who.face_scale);
      const float sky = mix(calc_sky(z, fx, fy, z0), 0.92F, side) * (1 - 0.88F * nostril);
      const float lamp = mix(calc_lamp(z, fx, fy, z0, key), 1.0F, side) * (1 - 0.93F * nostril);
      const float brow = (x > 0 ? left : right).calc_density(across, y);
      const float oil = 0.35F + 0.4F * bump(across, 13) * ramp(-50, -30, y) +
                        0.25F * bump(across, 22) * ramp(8, 26, y) +
                        0.15F * bump(across - 36, 14) * bump(y + 18, 10);
      std::uint8_t* p = out.at(i, j);
      p[0] = to_byte(sky);
      p[1] = to_byte(lamp);
      p[2] = to_byte(std::max(brow, 0.9F * calc_scalp(who, x, y)));
      p[3] = to_byte(oil);
    }
  }
  return out;
}

}  // namespace redress::face
