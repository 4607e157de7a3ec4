// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Reproducible chance for hairs, freckles and textures.
#pragma once

#include <cstdint>
#include <vector>

namespace redress::face {

/// xorshift32 [Marsaglia 2003, Xorshift RNGs]: nothing but looks depends on it.
class Chance {
 public:
  explicit Chance(std::uint32_t seed) : state_(seed * 2654435761U + 12345U) {
    if (state_ == 0) state_ = 1;
    next();
    next();
  }
  /// 0..1, even.
  float even() { return static_cast<float>(next() >> 8U) * (1.0F / 16777216.0F); }
  /// -1..1, densest at 0.
  float middle() { return even() + even() - 1.0F; }

 private:
  std::uint32_t next() {
    state_ ^= state_ << 13U;
    state_ ^= state_ >> 17U;
    state_ ^= state_ << 5U;
    return state_;
  }
  std::uint32_t state_;
};

/// A number 0..1 that belongs to a cell.
float calc_hash(int x, int y, std::uint32_t seed);
/// Smooth noise 0..1 of unit cells; repeats every `period` cells unless that is 0.
float calc_noise(float x, float y, int period, std::uint32_t seed);
/// Sum of octaves, 0..1.
float calc_fractal(float x, float y, int octaves, std::uint32_t seed);

/// Four bytes a pixel, row 0 at the bottom.
struct Image {
  int width = 0;
  int height = 0;
  std::vector<std::uint8_t> rgba;

  Image() = default;
  Image(int w, int h);
  std::uint8_t* at(int x, int y);
};

/// 0..1 to a byte.
std::uint8_t to_byte(float v);

}  // namespace redress::face
