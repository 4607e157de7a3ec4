// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Occluder and prisms over the composed picture of face and eyes, farthest from the examiner first.
#pragma once

#include <optional>

#include "render/draw/occluder_painter.hpp"
#include "render/draw/prism_painter.hpp"
#include "render/draw/spectacle_painter.hpp"

namespace redress::draw {

class InstrumentPainter {
 public:
  /// Only within `region`; what a lens shows from beside it is that of the call before. Says where
  /// it drew.
  gl::PixelBox draw(const scene::Scene& scene, const face::Camera& camera,
                    const gl::RenderTarget& composed, gl::PixelBox region);

 private:
  [[nodiscard]] GLuint blur(const gl::RenderTarget& composed, float mm_per_pixel);
  gl::RenderTarget behind_;  // what an instrument is seen in front of
  bool reads_as_stored_ = false;
  std::vector<gl::RenderTarget> halves_;  // the same, each half the size of the one before
  OccluderPainter occluder_;
  PrismPainter prisms_;
  std::optional<SpectaclePainter> spectacles_;  // made for the first to wear any lens
};

}  // namespace redress::draw
