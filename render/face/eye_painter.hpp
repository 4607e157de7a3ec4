// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Draws both eyes under the layer of the face, every frame, into two small rectangles.
#pragma once

#include "render/face/face_layer.hpp"

namespace redress::face {

class EyePainter {
 public:
  explicit EyePainter(const FaceModel& model);
  /// Into the framebuffer that is bound, which already holds the layer's picture.
  void draw(const scene::Scene& scene, const Camera& camera, const FaceLayer& layer);

 private:
  void draw_eye(std::size_t side, const scene::Scene& scene, const Camera& camera,
                const FaceLayer& layer);
  void update_margins(std::size_t side, LidLine line);

  const FaceModel* model_;
  gl::Program program_;
  gl::VertexArray empty_;
  std::array<gl::TextureHandle, 2> iris_;
  std::array<gl::TextureHandle, 2> sclera_;
  std::array<gl::TextureHandle, 2> margins_;
  std::array<std::optional<LidLine>, 2> line_;
};

}  // namespace redress::face
