// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The face without its lids as a field of depths z(x, y) over a 1 mm grid.
#pragma once

#include <vector>

#include "render/face/maths.hpp"
#include "render/face/traits.hpp"

namespace redress::face {

/// Extent of the field and of all maps of the skin, mm.
struct SkinExtent {
  float x0 = -92;
  float y0 = -64;
  float x1 = 92;
  float y1 = 70;
};
inline constexpr SkinExtent kSkin{};

class Relief {
 public:
  explicit Relief(const scene::PatientAppearance& who);
  /// Depth in front of the centres of rotation, mm; cubic B-spline, smooth to the second
  /// derivative.
  [[nodiscard]] float z(float x, float y) const;

 private:
  int columns_ = 0;
  int rows_ = 0;
  std::vector<float> depth_;
};

/// The nose of one person. Coordinates in the scale of an adult face; x is the picture's.
class Nose {
 public:
  explicit Nose(const scene::PatientAppearance& who);
  /// Adds bridge, tip, wings and nostrils to the depth `under` of a noseless face.
  [[nodiscard]] float calc_depth(float x, float y, float under) const;
  /// 0..1, how much of a nostril's opening is here.
  [[nodiscard]] float calc_nostril(float x, float y) const;

 private:
  [[nodiscard]] float calc_across(float x, float y) const;
  float bridge_;  // mm
  float wide_;
  float slim_;   // of the ridge
  float short_;  // heights are those of a longer nose
  Traits traits_;
};

}  // namespace redress::face
