// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The face without its eyes, drawn only when lids, head, light, view or size change. Where an eye
// will show, its alpha is 0; colours are premultiplied.
#pragma once

#include <optional>

#include "render/face/camera.hpp"
#include "render/face/face_model.hpp"
#include "render/gl/mesh.hpp"
#include "render/gl/program.hpp"
#include "render/gl/texture.hpp"

namespace redress::face {

/// Sets what light.glsl declares, for a program in use.
void set_light(const gl::Program& program, const Camera& camera, double room);

/// The box round the opening between the lids of one eye: x0 y0 x1 y1, mm.
glm::vec4 calc_opening(const Lids& lids, std::size_t side, LidLine line, float margin);

/// How much is spent on the skin; the eyes, and what is measured on them, are the same in all.
enum class Quality {
  kLow,     ///< one sample a pixel; half as many pixels each way while lids or head move
  kMedium,  ///< one sample a pixel while lids or head move, four when they are still again
  kHigh     ///< four samples a pixel
};

class FaceLayer {
 public:
  explicit FaceLayer(const FaceModel& model);

  /// Redraws what the scene changed and says where that was.
  std::vector<gl::PixelBox> update(const scene::Scene& scene, const Camera& camera);
  [[nodiscard]] const gl::RenderTarget& picture() const { return picture_; }
  /// The margins as they are drawn now.
  [[nodiscard]] LidLine line(std::size_t side) const { return drawn_[side]; }
  /// The picture must be drawn again from nothing, as after a lost context or for timing.
  void forget() { camera_.reset(); }
  void set_quality(Quality quality);
  [[nodiscard]] Quality quality() const { return quality_; }
  /// Draws the lids of one eye once more as they are, for timing. Returns how many pixels that
  /// were.
  int repeat_eye();

 private:
  /// One eye (`side` to `side` + 1) or the whole head, of which `box` is drawn.
  struct Part {
    std::size_t from = 0;
    std::size_t to = 2;
    bool all = true;
    gl::PixelBox box;
  };
  void build_lids(std::size_t side);
  void make_targets(const Camera& camera);
  void paint(const Part& part, bool fine);
  std::vector<gl::PixelBox> refine();
  [[nodiscard]] Part make_eye(std::size_t side) const;
  void paint_holes(std::size_t from, std::size_t to, double room);
  void paint_skin(std::size_t from, std::size_t to, bool all, double room);
  void paint_hair(std::size_t from, std::size_t to, bool all, double room);
  [[nodiscard]] gl::PixelBox calc_lid_box(std::size_t side) const;

  const FaceModel* model_;
  gl::Program skin_;
  gl::Program hair_;
  gl::Program hole_;
  gl::VertexArray empty_;
  gl::Mesh head_;
  gl::Mesh temples_;
  std::array<gl::Mesh, 2> brows_;
  std::array<gl::Mesh, 2> patches_;
  std::array<gl::Mesh, 2> lashes_;
  gl::TextureHandle detail_;
  gl::TextureHandle pigment_;
  gl::TextureHandle light_;
  gl::RenderTarget fine_;
  gl::RenderTarget coarse_;  // for what moves, unless the quality is high
  gl::RenderTarget picture_;
  Quality quality_ = Quality::kHigh;
  float drawn_mm_ = 0.1F;             // a pixel of the target that is being drawn
  std::array<bool, 2> coarse_eye_{};  // drawn coarsely, to be drawn again when still
  int coarse_bands_ = 0;              // the same of the whole picture: bands left
  std::optional<Camera> camera_;
  double room_ = -1;
  std::array<LidLine, 2> drawn_{};
};

}  // namespace redress::face
