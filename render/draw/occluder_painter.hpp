// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The occluder: plate, rim, thickness, handle, the hand that holds it, and its shadow on the face.
#pragma once

#include "render/draw/hand_map.hpp"
#include "render/face/camera.hpp"
#include "render/gl/program.hpp"
#include "render/gl/texture.hpp"

namespace redress::draw {

/// A plane in the head's picture frame that a shader draws on, in its own millimetres.
struct Plane {
  glm::vec3 origin{0};
  glm::vec3 across{1, 0, 0};
  glm::vec3 upward{0, 1, 0};
};

/// A copy of the picture for what lets it through.
struct Behind {
  GLuint texture = 0;
  bool as_stored = false;  ///< reads come encoded to sRGB: the shader decodes what it mixed
};

class OccluderPainter {
 public:
  OccluderPainter();
  /// Makes what a scene needs and is made once; before anything is bound to draw into.
  void prepare(const scene::Scene& scene);
  /// On the face, before anything that stands in front of it. Both say where they drew.
  gl::PixelBox draw_shadow(const scene::Scene& scene, const face::Camera& camera);
  /// Over the framebuffer that is bound; `blurred` is what lies behind, made small.
  gl::PixelBox draw(const scene::Scene& scene, const face::Camera& camera, GLuint blurred);

 private:
  void set_common(const gl::Program& program, const scene::Scene& scene,
                  const face::Camera& camera) const;
  gl::PixelBox draw_blade_shadow(const scene::Scene& scene, const face::Camera& camera, float gap);
  gl::PixelBox draw_held_shadow(const scene::Scene& scene, const face::Camera& camera, float gap);
  void draw_plate(const scene::Scene& scene, const face::Camera& camera, GLuint blurred);
  gl::PixelBox draw_hand(const scene::Scene& scene, const face::Camera& camera, HandPart part);
  static bool shows_hand(const scene::Scene& scene);
  gl::Program plate_;
  gl::Program blade_;
  gl::Program shadow_;
  gl::Program held_shadow_;
  gl::Program hand_;
  gl::VertexArray empty_;
  HandMap thumb_map_;
  HandMap fingers_map_;
};

/// The pixels that a rectangle on a plane may touch.
gl::PixelBox calc_pixels(const Plane& plane, glm::vec4 quad, const face::Camera& camera);

/// Hands a plane to instrument.vert and draws the rectangle x0 y0 x1 y1 on it.
void draw_on_plane(const gl::Program& program, const Plane& plane, glm::vec4 quad,
                   const gl::VertexArray& empty);

/// A rectangle less the one that lies within it.
void draw_around(const gl::Program& program, const Plane& plane, glm::vec4 all, glm::vec4 hole,
                 const gl::VertexArray& empty);

}  // namespace redress::draw
