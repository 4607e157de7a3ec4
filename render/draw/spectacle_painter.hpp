// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The patient's spectacles as the examiner sees them: frame, lenses that make the eye behind look
// smaller, larger or displaced, the line of a segment, reflections; and round trial lenses.
#pragma once

#include "render/draw/occluder_painter.hpp"

namespace redress::draw {

class SpectaclePainter {
 public:
  SpectaclePainter();
  /// On the face, before anything that stands in front of it. Says where it drew.
  gl::PixelBox draw_shadow(const scene::Scene& scene, const face::Camera& camera);
  /// The pixels that spectacles and trial lenses may touch or look at.
  static gl::PixelBox calc_box(const scene::Scene& scene, const face::Camera& camera);
  static gl::PixelBox calc_trial_box(const scene::Scene& scene, const face::Camera& camera);
  /// Over the framebuffer that is bound; `behind` is what lies behind.
  void draw(const scene::Scene& scene, const face::Camera& camera, const Behind& behind);
  void draw_trial(const scene::Scene& scene, const face::Camera& camera, const Behind& behind);

  /// Depth of the plane of the lenses, head frame.
  static double find_plane_mm(const scene::Scene& scene);
  static double find_trial_plane_mm(const scene::Scene& scene);

 private:
  void set_glass(const scene::Scene& scene, const face::Camera& camera, const Behind& behind) const;
  void set_frame(const scene::Scene& scene, const face::Camera& camera) const;
  void draw_lens(const scene::Lens& lens, const Plane& plane, glm::vec2 eye, glm::vec4 quad) const;
  void draw_rim(const Plane& plane, glm::vec4 quad, glm::vec4 shape) const;
  void draw_pads(double plane_mm, glm::vec2 beside_bridge) const;
  void draw_temples(const scene::Scene& scene, const face::Camera& camera) const;
  gl::Program frame_;
  gl::Program glass_;
  gl::VertexArray empty_;
};

}  // namespace redress::draw
