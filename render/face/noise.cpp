// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/face/noise.hpp"

#include <algorithm>
#include <cmath>

namespace redress::face {

float calc_hash(int x, int y, std::uint32_t seed) {
  std::uint32_t h = static_cast<std::uint32_t>(x) * 374761393U +
                    static_cast<std::uint32_t>(y) * 668265263U + seed * 2246822519U;
  h = (h ^ (h >> 13U)) * 1274126177U;
  return static_cast<float>((h ^ (h >> 16U)) >> 8U) * (1.0F / 16777216.0F);
}

float calc_noise(float x, float y, int period, std::uint32_t seed) {
  const float fx = std::floor(x);
  const float fy = std::floor(y);
  const int ix = static_cast<int>(fx);
  const int iy = static_cast<int>(fy);
  float u = x - fx;
  float v = y - fy;
  u = u * u * (3 - 2 * u);
  v = v * v * (3 - 2 * v);
  const auto wrap = [period](int i) { return period > 0 ? ((i % period) + period) % period : i; };
  const auto cell = [&](int i, int j) { return calc_hash(wrap(i), wrap(j), seed); };
  const float low = std::lerp(cell(ix, iy), cell(ix + 1, iy), u);
  const float high = std::lerp(cell(ix, iy + 1), cell(ix + 1, iy + 1), u);
  return std::lerp(low, high, v);
}

float calc_fractal(float x, float y, int octaves, std::uint32_t seed) {
  float sum = 0;
  float weight = 0.5F;
  float all = 0;
  for (int k = 0; k < octaves; ++k) {
    sum += weight * calc_noise(x, y, 0, seed + static_cast<std::uint32_t>(k));
    all += weight;
    weight *= 0.55F;
    const float turned = x * 1.6F - y * 1.2F;  // turned by 37 degrees: no grid shows
    y = x * 1.2F + y * 1.6F;
    x = turned + 3.7F;
  }
  return sum / all;
}

Image::Image(int w, int h)
    : width(w), height(h), rgba(static_cast<std::size_t>(w) * static_cast<std::size_t>(h) * 4) {}

std::uint8_t* Image::at(int x, int y) {
  return &rgba[(static_cast<std::size_t>(y) * static_cast<std::size_t>(width) +
                static_cast<std::size_t>(x)) *
               4];
}

std::uint8_t to_byte(float v) {
  return static_cast<std::uint8_t>(std::clamp(v * 255.0F + 0.5F, 0.0F, 255.0F));
}

}  // namespace redress::face
