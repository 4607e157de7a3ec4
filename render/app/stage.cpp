// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/app/stage.hpp"

#include <malloc.h>

#include <chrono>
#include <cmath>
#include <utility>

namespace redress::app {

namespace {

std::future<face::FaceModel> make_elsewhere(const scene::PatientAppearance& who) {
  return std::async(std::launch::async, [who] { return face::make_face_model(who); });
}

/// What it took to make a face, and its shaders, is several times what is left of it.
void give_memory_back() {
#ifdef __GLIBC__
  malloc_trim(0);
#endif
}

bool has_come(const std::future<face::FaceModel>& making) {
  return making.valid() && making.wait_for(std::chrono::seconds{0}) == std::future_status::ready;
}

}  // namespace

gl::PixelBox to_box(const screens::Rect& r, float scale, int height_px) {
  const int left = static_cast<int>(std::lround(r.x * scale));
  const int right = static_cast<int>(std::lround(r.right() * scale));
  const int top = static_cast<int>(std::lround(r.y * scale));
  const int bottom = static_cast<int>(std::lround(r.bottom() * scale));
  return {left, height_px - bottom, right - left, bottom - top};
}

void Stage::call(const scene::PatientAppearance& who) {
  if (wanted_ == who) return;
  picture_.reset();
  // One that is being made for nobody any more is waited for: it cannot be stopped.
  making_ = make_elsewhere(who);
  wanted_ = who;
}

void Stage::send_away() {
  wanted_.reset();
  picture_.reset();
  making_ = {};
}

void Stage::forget_graphics() {
  picture_.reset();
  if (wanted_) making_ = make_elsewhere(*wanted_);
}

void Stage::finish() {
  if (!making_.valid()) return;
  picture_ = std::make_unique<draw::PatientPicture>(making_.get());
  if (follows_speed_) picture_->measure_quality();
  drawn_ = 0;
  give_memory_back();
}

bool Stage::is_ready() {
  if (picture_ == nullptr && has_come(making_)) finish();
  return picture_ != nullptr;
}

void Stage::wait() {
  if (picture_ == nullptr) finish();
}

void Stage::draw(const scene::Scene& scene, gl::PixelBox box, GLuint target) {
  if (!is_ready() || box.width <= 0 || box.height <= 0) return;
  picture_->draw_at(scene, box, target);
  // The first pictures had the driver make machine code of the shaders, later ones of instruments'.
  constexpr int kShadersAreMade[] = {4, 150, 400};
  ++drawn_;
  for (const int frame : kShadersAreMade) {
    if (drawn_ == frame) give_memory_back();
  }
}

void Thumbnails::want(std::vector<scene::PatientAppearance> people) {
  if (people == people_) return;
  people_ = std::move(people);
  textures_.clear();
}

void Thumbnails::forget_graphics() {
  textures_.clear();
  making_ = {};  // it may be of another person than the first
}

bool Thumbnails::work() {
  if (done()) return false;
  if (!making_.valid()) {
    making_ = make_elsewhere(people_[textures_.size()]);
    return false;
  }
  if (!has_come(making_)) return false;
  draw::PatientPicture picture(making_.get());
  scene::Scene scene;
  scene.view.pixels_per_mm = kWidth / 118.0;
  scene.view.centre_y_mm = 1;
  gl::TextureHandle texture = gl::make_texture(kWidth, kHeight, gl::kBytes, nullptr, {});
  const gl::Framebuffer target = gl::Framebuffer::make();
  glBindFramebuffer(GL_FRAMEBUFFER, target.id());
  glFramebufferTexture2D(GL_FRAMEBUFFER, GL_COLOR_ATTACHMENT0, GL_TEXTURE_2D, texture.id(), 0);
  picture.draw(scene, kWidth, kHeight, target.id());
  glBindFramebuffer(GL_FRAMEBUFFER, 0);
  textures_.push_back(std::move(texture));
  if (done()) give_memory_back();
  return true;
}

GLuint Thumbnails::texture(std::size_t index) const {
  return index < textures_.size() ? textures_[index].id() : 0;
}

}  // namespace redress::app
