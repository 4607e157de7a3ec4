// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The face without its lids as a field of depths z(x, y) over a 1 mm grid.
#pragma once

#include <vector>

#include "render/face/maths.hpp"
#include "render/scene/scene.hpp"

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

/// Adds bridge, tip, wings and nostrils to the depth `under` of a noseless face. `across` is the
/// distance from the midline; both coordinates in the scale of an adult face.
float calc_nose(const scene::PatientAppearance& who, float across, float y, float under);
/// 0..1, how much of a nostril's opening is here; same coordinates.
float calc_nostril(const scene::PatientAppearance& who, float across, float y);

}  // namespace redress::face
