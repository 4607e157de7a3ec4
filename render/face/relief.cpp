// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/face/relief.hpp"

#include <array>

namespace redress::face {
namespace {

using glm::mix;

// Depth of the front of a head without nose and lids, mm before the centres of rotation. Own
// drawing: the depths of cornea, nasion and orbital rim follow ordinary exophthalmometry (cornea
// 13.5 mm before the centre, lateral rim about 16 mm behind the cornea).
constexpr std::size_t kAcross = 10;
constexpr std::size_t kUp = 14;
constexpr std::array<float, kAcross> kNetX{0, 8, 16, 24, 32, 40, 48, 56, 66, 80};
constexpr std::array<float, kUp> kNetY{62, 46, 34, 26, 19, 13, 7, 0, -7, -13, -20, -28, -38, -54};
constexpr std::array<std::array<float, kAcross>, kUp> kNet{{
    {23, 23, 22.5F, 21.5F, 19.5F, 16.5F, 12.5F, 7, -3, -24},
    {26, 26, 25.3F, 24, 22, 19, 15, 9.5F, 0, -20},
    {26, 26, 25.2F, 24, 22, 19, 15, 9, -1, -20},  // forehead
    {25.6F, 25, 24.2F, 23.4F, 22, 19, 14.6F, 8, -2, -21},
    {24.5F, 22.5F, 21.2F, 21.2F, 20.6F, 18.2F, 13, 6.3F, -4, -23},  // brow
    {22, 17.5F, 13.8F, 14.6F, 15.8F, 14.8F, 10.2F, 4, -6, -24},     // under the brow
    {20, 14.5F, 8.6F, 9.6F, 11.8F, 10.8F, 6.8F, 1.6F, -7.5F, -25},  // sulcus
    {19.5F, 13.5F, 6.6F, 6.4F, 8, 7, 3.6F, -0.6F, -8, -25},         // canthi
    {19.5F, 13.8F, 8.4F, 9.2F, 10.6F, 9.6F, 6.0F, 1.4F, -7, -24},
    {20, 14.8F, 10.8F, 12.2F, 13.2F, 12.4F, 9.2F, 4.2F, -5, -23},  // orbital rim
    {20.5F, 16, 13.2F, 14.4F, 15.4F, 14.8F, 11.6F, 6.8F, -3, -21},
    {20.5F, 17, 15.2F, 16, 16.8F, 16.2F, 13.2F, 8.2F, -2, -20},  // cheek
    {20, 18, 16.4F, 16.8F, 17, 15.8F, 12.6F, 7.6F, -3, -21},
    {20, 19, 17.6F, 17, 16, 14, 10.6F, 5, -6, -24},
}};

float sample_net(float across, float y) {
  std::size_t i = 0;
  std::size_t j = 0;
  while (i < kAcross - 2 && across > kNetX[i + 1]) ++i;
  while (j < kUp - 2 && y < kNetY[j + 1]) ++j;
  const float u = std::clamp((across - kNetX[i]) / (kNetX[i + 1] - kNetX[i]), 0.0F, 1.4F);
  const float v = std::clamp((y - kNetY[j]) / (kNetY[j + 1] - kNetY[j]), -0.3F, 1.3F);
  return mix(mix(kNet[j][i], kNet[j][i + 1], u), mix(kNet[j + 1][i], kNet[j + 1][i + 1], u), v);
}

/// Gaussian blur along one direction, edges held.
void blur_along(std::vector<float>& grid, int columns, int rows, float sigma, bool across) {
  const int reach = static_cast<int>(std::ceil(sigma * 2.5F));
  std::vector<float> kernel;
  float sum = 0;
  for (int a = -reach; a <= reach; ++a) {
    kernel.push_back(std::exp(-0.5F * static_cast<float>(a * a) / (sigma * sigma)));
    sum += kernel.back();
  }
  std::vector<float> out(grid.size());
  for (int y = 0; y < rows; ++y) {
    for (int x = 0; x < columns; ++x) {
      float s = 0;
      for (int a = -reach; a <= reach; ++a) {
        const int xx = across ? std::clamp(x + a, 0, columns - 1) : x;
        const int yy = across ? y : std::clamp(y + a, 0, rows - 1);
        s += kernel[static_cast<std::size_t>(a + reach)] *
             grid[static_cast<std::size_t>(yy * columns + xx)];
      }
      out[static_cast<std::size_t>(y * columns + x)] = s / sum;
    }
  }
  grid.swap(out);
}

void blur(std::vector<float>& grid, int columns, int rows, float sigma) {
  blur_along(grid, columns, rows, sigma, true);
  blur_along(grid, columns, rows, sigma, false);
}

/// Skull and cheeks; `fx`, `fy` in the scale of an adult face.
float calc_skull(const scene::PatientAppearance& who, const Traits& traits, float fx, float fy) {
  float z = sample_net(fx, fy);
  z += traits.forehead_mm * bump(fy - 33, 25) * bump(fx, 46);
  z += traits.childlike * 2.6F * bump(fx - 40, 17) * bump(fy + 25, 13);  // the fat of the cheek
  const float temple = 1 - ramp(44, 58, fx);
  z += (who.brow_ridge - 0.5F) *
       (3.6F * bump(fy - 18.5F, 7) * temple + 1.5F * bump(fy - 24, 7) * bump(fx, 16));
  z -= (1 - ramp(0.0F, 0.45F, who.brow_ridge)) * 1.3F * bump(fy - 16, 9);
  // A flat bridge makes no step at the glabella.
  z -= std::max(0.5F - who.nose_bridge, 0.0F) * mix(4.2F, 1.6F, traits.childlike) *
       bump(fy - 16, 13) * bump(fx, 24);
  z += (who.cheek - 0.5F) * (5.0F * bump(fx - 40, 16) * bump(fy + 22, 12) +
                             2.0F * bump(fy + 32, 10) * bump(fx - 34, 14));
  return z;
}

/// Fat above the crease, bags and tear trough; n towards the nose from the eye's centre.
float calc_soft_parts(const scene::PatientAppearance& who, float n, float y) {
  float z = who.fold_fullness_mm * bump(y - 10.5F, 5.5F) * bump(n + 3, 13);
  z -= std::max(-who.fold_fullness_mm, 0.0F) * 0.8F * bump(y - 11, 4.0F) * bump(n - 6, 7);
  z += who.bags * 3.3F * bump(y + 11.0F - 0.016F * n * n, 3.2F) * bump(n, 13.0F);
  const float trough = y + 16.2F - 0.012F * (n - 3) * (n - 3) - 0.10F * n;
  z -= (0.30F + who.bags * 0.75F) * bump(trough, 2.4F) * ramp(-12, -2, n) * ramp(17, 12, n);
  return z;
}

}  // namespace

Relief::Relief(const scene::PatientAppearance& who)
    : columns_(static_cast<int>(kSkin.x1 - kSkin.x0) + 1),
      rows_(static_cast<int>(kSkin.y1 - kSkin.y0) + 1),
      depth_(static_cast<std::size_t>(columns_ * rows_)) {
  const float wide = who.interpupillary_mm / 62.0F;
  const float scale = who.face_scale;
  const float eye = who.interpupillary_mm * 0.5F;
  const auto each = [&](auto change) {
    for (int j = 0; j < rows_; ++j) {
      for (int i = 0; i < columns_; ++i) {
        float& z = depth_[static_cast<std::size_t>(j * columns_ + i)];
        z = change(kSkin.x0 + static_cast<float>(i), kSkin.y0 + static_cast<float>(j), z);
      }
    }
  };
  const Traits traits = make_traits(who);
  const Nose nose(who);
  each([&](float x, float y, float) {
    const float across = std::abs(x);
    const float fx = across < eye ? across / wide : 31.0F + (across - eye) / mix(wide, 1.0F, 0.85F);
    return calc_skull(who, traits, fx, y / scale);
  });
  blur(depth_, columns_, rows_, 3.2F);
  each([&](float x, float y, float z) {
    const float across = std::abs(x);
    const float fy = y / scale;
    const float fx = across / scale;
    z += traits.cheek_tilt_mm * ramp(-30, 30, x) * bump(fx - 38, 16) * bump(fy + 22, 14);
    z = nose.calc_depth(x / scale, fy, z);
    // The groove that runs down beside the wing of the nose.
    z -= 1.5F * bump(fy + 33 + (fx - 20) * 0.9F, 4.5F) * bump(fx - 21.5F, 5);
    return z + calc_soft_parts(who, eye - across, y);
  });
  blur(depth_, columns_, rows_, 0.7F);
}

float Relief::z(float x, float y) const {
  float fx = std::clamp(x - kSkin.x0, 1.0F, static_cast<float>(columns_) - 3.001F);
  float fy = std::clamp(y - kSkin.y0, 1.0F, static_cast<float>(rows_) - 3.001F);
  const int ix = static_cast<int>(fx);
  const int iy = static_cast<int>(fy);
  fx -= static_cast<float>(ix);
  fy -= static_cast<float>(iy);
  const auto weights = [](float t) {
    const float s = 1 - t;
    return std::array<float, 4>{s * s * s / 6, (4 - 6 * t * t + 3 * t * t * t) / 6,
                                (4 - 6 * s * s + 3 * s * s * s) / 6, t * t * t / 6};
  };
  const std::array<float, 4> wx = weights(fx);
  const std::array<float, 4> wy = weights(fy);
  float sum = 0;
  for (int j = 0; j < 4; ++j) {
    const float* row = &depth_[static_cast<std::size_t>((iy - 1 + j) * columns_ + ix - 1)];
    sum += wy[static_cast<std::size_t>(j)] *
           (wx[0] * row[0] + wx[1] * row[1] + wx[2] * row[2] + wx[3] * row[3]);
  }
  return sum;
}

}  // namespace redress::face
