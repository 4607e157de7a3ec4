// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/app/stage.hpp"

#include <malloc.h>

#include <algorithm>
#include <chrono>
#include <cmath>
#include <cstddef>
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
  if (left_hand_) {
    scene::Scene mirrored = scene;
    mirrored.occluder.left_hand = true;
    picture_->draw_at(mirrored, box, target);
  } else {
    picture_->draw_at(scene, box, target);
  }
  // The first pictures had the driver make machine code of the shaders, later ones of instruments'.
  constexpr int kShadersAreMade[] = {4, 150, 400};
  ++drawn_;
  for (const int frame : kShadersAreMade) {
    if (drawn_ == frame) give_memory_back();
  }
}

void Thumbnails::want(std::vector<std::string> keys) {
  if (keys == wanted_) return;
  wanted_ = std::move(keys);
  std::stable_partition(made_.begin(), made_.end(), [this](const Made& each) {
    return std::find(wanted_.begin(), wanted_.end(), each.key) == wanted_.end();
  });
  if (made_.size() > kMost) {
    made_.erase(made_.begin(), made_.end() - static_cast<std::ptrdiff_t>(kMost));
  }
}

const Thumbnails::Made* Thumbnails::find(const std::string& key) const {
  const auto found =
      std::find_if(made_.begin(), made_.end(), [&](const Made& each) { return each.key == key; });
  return found == made_.end() ? nullptr : &*found;
}

const std::string* Thumbnails::find_next() const {
  const auto found = std::find_if(wanted_.begin(), wanted_.end(),
                                  [this](const std::string& key) { return find(key) == nullptr; });
  return found == wanted_.end() ? nullptr : &*found;
}

void Thumbnails::forget(const std::string& key) {
  std::erase_if(made_, [&](const Made& each) { return each.key == key; });
  if (making_key_ == key) making_key_.clear();  // what is being made is of before
}

void Thumbnails::forget_graphics() { made_.clear(); }

bool Thumbnails::work() {
  if (!making_.valid()) {
    const std::string* next = find_next();
    if (next == nullptr) return false;
    making_key_ = *next;
    making_ = std::async(std::launch::async,
                         [portrait = portrait_, key = *next]() -> std::optional<face::FaceModel> {
                           const auto who = portrait(key);
                           if (!who) return std::nullopt;
                           return face::make_face_model(*who);
                         });
    return false;
  }
  if (making_.wait_for(std::chrono::seconds{0}) != std::future_status::ready) return false;
  std::optional<face::FaceModel> model = making_.get();
  if (making_key_.empty()) return false;
  Made made{making_key_, std::nullopt};
  if (model) {
    draw::PatientPicture picture(std::move(*model));
    scene::Scene scene;
    scene.view.pixels_per_mm = kWidth / 118.0;
    scene.view.centre_y_mm = 1;
    gl::TextureHandle texture = gl::make_texture(kWidth, kHeight, gl::kBytes, nullptr, {});
    const gl::Framebuffer target = gl::Framebuffer::make();
    glBindFramebuffer(GL_FRAMEBUFFER, target.id());
    glFramebufferTexture2D(GL_FRAMEBUFFER, GL_COLOR_ATTACHMENT0, GL_TEXTURE_2D, texture.id(), 0);
    picture.draw(scene, kWidth, kHeight, target.id());
    glBindFramebuffer(GL_FRAMEBUFFER, 0);
    made.texture = std::move(texture);
  }
  made_.push_back(std::move(made));
  if (done()) give_memory_back();
  return true;
}

GLuint Thumbnails::texture(const std::string& key) const {
  const Made* made = find(key);
  return made != nullptr && made->texture ? made->texture->id() : 0;
}

}  // namespace redress::app
