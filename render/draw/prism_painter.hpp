// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Prisms as clear wedges: each pixel's ray is bent at both faces and carried on to the plane of the
// pupils; what the picture has there is what is seen. So an eye moves towards the apex by itself.
#pragma once

#include "render/draw/occluder_painter.hpp"

namespace redress::draw {

class PrismPainter {
 public:
  PrismPainter();
  /// Over the framebuffer that is bound; `behind` is a copy of what it holds.
  void draw(const scene::Prism& prism, const scene::Scene& scene, const face::Camera& camera,
            const Behind& behind);
  /// The pixels that it may draw on, and those that it may show there.
  static gl::PixelBox calc_box(const scene::Prism& prism, const face::Camera& camera);

 private:
  struct Stand;
  struct Wedge;
  static Stand make_stand(const scene::Prism& prism);
  static Wedge make_wedge(const scene::Prism& prism, const Stand& stand, std::size_t k,
                          const face::Camera& camera);
  static glm::vec4 calc_middle(const Wedge& wedge, const Stand& stand, const face::Camera& camera);
  static void set_wedge(const gl::Program& program, const Wedge& wedge, bool of_bar);
  void set_common(const gl::Program& program, const scene::Prism& prism, const Stand& stand,
                  const scene::Scene& scene, const face::Camera& camera) const;
  void draw_label(const Wedge& wedge, const Stand& stand, double power_pd,
                  const face::Camera& camera, const scene::Scene& scene);

  gl::Program edges_;
  gl::Program middle_;
  gl::Program engraver_;
  gl::VertexArray empty_;
  gl::TextureHandle engraving_;
};

}  // namespace redress::draw
