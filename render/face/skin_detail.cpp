// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include <array>

#include "render/face/maps.hpp"

namespace redress::face {
namespace {

constexpr int kSize = 512;

/// Distances to the nearest and second nearest of n x n scattered points.
struct Nearest {
  float first = 9;
  float second = 9;
};

Nearest find_nearest(float x, float y, int n, std::uint32_t seed) {
  Nearest out;
  const int cx = static_cast<int>(x);
  const int cy = static_cast<int>(y);
  for (int j = cy - 1; j <= cy + 1; ++j) {
    for (int i = cx - 1; i <= cx + 1; ++i) {
      const int wi = (i + n) % n;
      const int wj = (j + n) % n;
      const float px = static_cast<float>(i) + 0.15F + 0.7F * calc_hash(wi, wj, seed);
      const float py = static_cast<float>(j) + 0.15F + 0.7F * calc_hash(wi, wj, seed + 1);
      const float d = (px - x) * (px - x) + (py - y) * (py - y);
      if (d < out.first) {
        out.second = out.first;
        out.first = d;
      } else {
        out.second = std::min(out.second, d);
      }
    }
  }
  return {std::sqrt(out.first), std::sqrt(out.second)};
}

}  // namespace

Image make_skin_detail() {
  std::vector<float> height(static_cast<std::size_t>(kSize * kSize));
  std::vector<float> hollow(height.size());
  for (int y = 0; y < kSize; ++y) {
    for (int x = 0; x < kSize; ++x) {
      const float u = static_cast<float>(x) / kSize;
      const float v = static_cast<float>(y) / kSize;
      const float wx = 0.25F * (calc_noise(u * 24, v * 24, 24, 5) - 0.5F);
      const float wy = 0.25F * (calc_noise(u * 24, v * 24, 24, 6) - 0.5F);
      const Nearest plates = find_nearest(u * 26 + wx, v * 26 + wy, 26, 11);
      const Nearest fine = find_nearest(u * 51, v * 51, 51, 21);
      const Nearest pores = find_nearest(u * 13, v * 13, 13, 31);
      const float plate = ramp(0, 0.35F, plates.second - plates.first);  // furrows between plates
      const float small = ramp(0, 0.4F, fine.second - fine.first);
      const float pit = -1.3F * std::exp(-pores.first * pores.first / 0.022F);
      const float grain = calc_noise(u * 128, v * 128, 128, 41) - 0.5F;
      const auto k = static_cast<std::size_t>(y * kSize + x);
      height[k] = 0.34F * plate + 0.28F * small + pit + 0.34F * grain;
      hollow[k] = 0.5F + 0.5F * std::clamp(0.5F * plate + 0.2F * small + pit - 0.3F, -1.0F, 1.0F);
    }
  }
  Image out(kSize, kSize);
  const auto at = [&height](int i, int j) {
    return height[static_cast<std::size_t>(((j + kSize) % kSize) * kSize + (i + kSize) % kSize)];
  };
  for (int y = 0; y < kSize; ++y) {
    for (int x = 0; x < kSize; ++x) {
      const float u = static_cast<float>(x) / kSize;
      const float v = static_cast<float>(y) / kSize;
      std::uint8_t* p = out.at(x, y);
      p[0] = to_byte(0.5F + 0.9F * (at(x + 1, y) - at(x - 1, y)));
      p[1] = to_byte(0.5F + 0.9F * (at(x, y + 1) - at(x, y - 1)));
      p[2] = to_byte(hollow[static_cast<std::size_t>(y * kSize + x)]);
      p[3] = to_byte(0.5F * calc_noise(u * 12, v * 12, 12, 51) +
                     0.3F * calc_noise(u * 30, v * 30, 30, 52) +
                     0.2F * calc_noise(u * 80, v * 80, 80, 53));
    }
  }
  return out;
}

}  // namespace redress::face
