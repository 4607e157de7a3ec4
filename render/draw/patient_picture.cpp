// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/draw/patient_picture.hpp"

#include "render/draw/instrument_painter.hpp"

namespace redress::draw {

PatientPicture::PatientPicture(const scene::PatientAppearance& who)
    : PatientPicture(face::make_face_model(who)) {}

PatientPicture::PatientPicture(face::FaceModel model)
    : model_(std::move(model)),
      layer_(model_),
      eyes_(model_),
      instruments_(std::make_unique<InstrumentPainter>()) {
  // What OpenGL has its own copy of.
  model_.detail = model_.pigment = model_.light = {};
  model_.iris = model_.sclera = {};
  model_.head.skin = {};
  model_.brows = {};
  model_.temples = {};
}

PatientPicture::~PatientPicture() = default;

void PatientPicture::draw(const scene::Scene& scene, int width, int height, GLuint target) {
  draw_at(scene, {0, 0, width, height}, target);
}

void PatientPicture::draw_at(const scene::Scene& scene, gl::PixelBox box, GLuint target) {
  if (box.width <= 0 || box.height <= 0) return;
  const face::Camera camera = face::make_camera(scene, box.width, box.height);
  std::vector<gl::PixelBox> stale = layer_.update(scene, camera);
  const gl::PixelBox all{0, 0, box.width, box.height};
  if (composed_.width() != box.width || composed_.height() != box.height) {
    composed_ = gl::RenderTarget(box.width, box.height, 1);
    stale = {all};
  }
  // Only what has changed is copied: the layer where it was redrawn, and where instruments stood.
  stale.push_back(dirty_);
  for (const gl::PixelBox& part : stale) {
    gl::copy_box(layer_.picture().framebuffer(), composed_.framebuffer(),
                 gl::calc_overlap(part, all));
  }
  glBindFramebuffer(GL_FRAMEBUFFER, composed_.framebuffer());
  eyes_.draw(scene, camera, layer_);
  dirty_ = instruments_->draw(scene, camera, composed_);
  gl::copy_scaled(composed_.framebuffer(), all, target, box);
  glBindFramebuffer(GL_FRAMEBUFFER, target);
  glBindVertexArray(0);
  glUseProgram(0);
  gl::bind_texture(0, 0);
}

}  // namespace redress::draw
