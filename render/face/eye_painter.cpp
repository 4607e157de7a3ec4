// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/face/eye_painter.hpp"

namespace redress::face {
namespace {

using glm::vec2;
using glm::vec3;
using glm::vec4;

constexpr int kMarginTexels = 64;

}  // namespace

EyePainter::EyePainter(const FaceModel& model)
    : model_(&model), program_("quad.vert", "eye.frag"), empty_(gl::VertexArray::make()) {
  for (const std::size_t side : {0U, 1U}) {
    const Image& iris = model.iris[side];
    const Image& sclera = model.sclera[side];
    iris_[side] = gl::make_texture(iris.width, iris.height, gl::kBytes, iris.rgba.data(),
                                   {true, false, true});
    sclera_[side] = gl::make_texture(sclera.width, sclera.height, gl::kBytes, sclera.rgba.data(),
                                     {false, false, true});
    margins_[side] = gl::make_texture(kMarginTexels, 1, gl::kFloats, nullptr, {});
  }
}

void EyePainter::update_margins(std::size_t side, LidLine line) {
  if (line_[side] == line) return;
  line_[side] = line;
  const Lids& lids = *model_->lids;
  const float n0 = lids.temporal_end();
  const float span = lids.nasal_end() - n0;
  std::array<float, kMarginTexels * 4> texels{};
  for (std::size_t k = 0; k < kMarginTexels; ++k) {
    const float n = n0 + span * (static_cast<float>(k) + 0.5F) / kMarginTexels;
    texels[4 * k] = lids.upper(n, line) - Lids::kLipUpper;
    texels[4 * k + 1] = lids.lower(n, line) + 0.9F * Lids::kLipLower;
  }
  glBindTexture(GL_TEXTURE_2D, margins_[side].id());
  glTexSubImage2D(GL_TEXTURE_2D, 0, 0, 0, kMarginTexels, 1, GL_RGBA, GL_FLOAT, texels.data());
}

void EyePainter::draw(const scene::Scene& scene, const Camera& camera, const FaceLayer& layer) {
  glActiveTexture(GL_TEXTURE3);
  for (const std::size_t side : {0U, 1U}) update_margins(side, layer.line(side));
  glEnable(GL_FRAMEBUFFER_SRGB);
  glDisable(GL_BLEND);
  glDisable(GL_DEPTH_TEST);
  glViewport(0, 0, camera.width, camera.height);
  program_.use();
  set_light(program_, camera, scene.light.room);
  program_.set("uLayer", 0);
  program_.set("uIris", 1);
  program_.set("uSclera", 2);
  program_.set("uLids", 3);
  program_.set("uPen", to_picture(scene.light.penlight_mm));
  program_.set("uPenOn", scene.light.penlight ? 1.0F : 0.0F);
  program_.set("uLod", glm::max(vec2(std::log2(camera.mm_per_pixel * 44),
                                     std::log2(camera.mm_per_pixel * 15)) -
                                    0.2F,
                                0.0F));
  glBindVertexArray(empty_.id());
  for (const std::size_t side : {0U, 1U}) draw_eye(side, scene, camera, layer);
}

void EyePainter::draw_eye(std::size_t side, const scene::Scene& scene, const Camera& camera,
                          const FaceLayer& layer) {
  const LidLine line = layer.line(side);
  if (line.top + line.bottom <= 0) return;  // shut: nothing of the eye shows
  const scene::PatientAppearance& who = model_->who;
  const scene::EyePose& pose = scene.eyes[side];
  const Lids& lids = *model_->lids;
  const float sign = side == 1 ? 1.0F : -1.0F;
  const float n0 = lids.temporal_end();
  program_.set("uCentre", calc_globe_centre(who, side, pose));
  program_.set("uEye", calc_eye_rotation(pose, side, who.kappa_deg));
  program_.set("uLidSpan", vec4(n0, 1 / (lids.nasal_end() - n0), sign, lids.nasal_end()));
  program_.set("uArcus", who.arcus);
  program_.set("uLook", vec4(who.redness, who.sclera_yellow,
                             0.5F * static_cast<float>(pose.pupil_mm), who.iris_radius_mm));
  program_.set("uPlace", vec4(lids.nasal_y(), who.melanin, camera.mm_per_pixel, lids.x(side, 0)));
  program_.set("uQuad", calc_opening(lids, side, line, 0.7F));
  program_.set("uQuadZ", 9.0F + who.prominence_mm);
  gl::bind_texture(3, margins_[side].id());
  gl::bind_texture(2, sclera_[side].id());
  gl::bind_texture(1, iris_[side].id());
  gl::bind_texture(0, layer.picture().texture());
  glDrawArrays(GL_TRIANGLES, 0, 6);
}

}  // namespace redress::face
