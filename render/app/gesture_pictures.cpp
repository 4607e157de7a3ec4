// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/app/gesture_pictures.hpp"

#include <cmath>
#include <utility>

#include "sim/room/holding_hand.hpp"

namespace redress::app {

namespace ex = screens::examine;

namespace {

/// Where the occluder is in each: waiting, before the right eye, on its way across, on its way out.
struct Place {
  double x_mm;  // + to the patient's right, left in the picture
  double y_mm;
};
constexpr std::array<Place, ex::kGestures> kPlaces{{{33, -73}, {33, -1}, {-4, -3}, {-37, 43}}};
constexpr double kDistanceMm = 40;  // of the blade before the plane of the eyes

scene::Scene make_gesture(const Place& place, int width_px) {
  scene::Scene scene;
  scene.view.pixels_per_mm = width_px / ex::kGestureAcrossMm;
  scene.view.centre_y_mm = -4;
  scene.occluder.present = true;
  scene.occluder.centre_mm = {place.x_mm, place.y_mm, -kDistanceMm};
  scene.occluder.handle_deg = handle_lean_deg({place.x_mm, place.y_mm, -kDistanceMm});
  return scene;
}

}  // namespace

bool GesturePictures::draw_next(Stage& stage, int width_px) {
  if (width_px != width_px_) {
    forget();
    width_px_ = width_px;
  }
  if (drawn_ >= pictures_.size() || width_px <= 0 || !stage.is_ready()) return false;
  const int height_px =
      static_cast<int>(std::lround(static_cast<float>(width_px) / ex::kGestureAspect));
  gl::TextureHandle texture = gl::make_texture(width_px, height_px, gl::kBytes, nullptr, {});
  const gl::Framebuffer target = gl::Framebuffer::make();
  glBindFramebuffer(GL_FRAMEBUFFER, target.id());
  glFramebufferTexture2D(GL_FRAMEBUFFER, GL_COLOR_ATTACHMENT0, GL_TEXTURE_2D, texture.id(), 0);
  stage.draw(make_gesture(kPlaces[drawn_], width_px), {0, 0, width_px, height_px}, target.id());
  glBindFramebuffer(GL_FRAMEBUFFER, 0);
  pictures_[drawn_++] = std::move(texture);
  return true;
}

void GesturePictures::forget() {
  for (gl::TextureHandle& picture : pictures_) picture = {};
  drawn_ = 0;
}

std::array<std::uintptr_t, ex::kGestures> GesturePictures::textures() const {
  std::array<std::uintptr_t, ex::kGestures> ids{};
  for (std::size_t i = 0; i < drawn_; ++i) ids[i] = pictures_[i].id();
  return ids;
}

}  // namespace redress::app
