// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/draw/patient_picture.hpp"

#include <algorithm>
#include <chrono>
#include <cmath>

#include "render/draw/instrument_painter.hpp"
#include "render/face/fidget.hpp"

namespace redress::draw {

PatientPicture::PatientPicture(const scene::PatientAppearance& who)
    : PatientPicture(face::make_face_model(who)) {}

PatientPicture::PatientPicture(face::FaceModel model)
    : model_(std::move(model)),
      layer_(model_),
      eyes_(model_),
      instruments_(std::make_unique<InstrumentPainter>()) {
  // What OpenGL has its own copy of. One by one: what is assigned from another keeps its store.
  const auto let_go = [](auto&... maps) { ((maps = {}), ...); };
  let_go(model_.detail, model_.pigment, model_.light, model_.iris, model_.sclera);
  model_.head.skin = {};
  model_.brows = {};
  model_.temples = {};
}

PatientPicture::~PatientPicture() = default;

void PatientPicture::set_quality(face::Quality quality) {
  layer_.set_quality(quality);
  to_time_ = 0;
}

void PatientPicture::measure_quality() {
  layer_.set_quality(face::Quality::kLow);
  frames_ = 0;
  to_time_ = 3;
  least_ms_ = 1e9;
}

/// The first frames are those in which a driver still compiles: the least time counts. Both lids of
/// a blink, drawn with four samples, are to take no more than half of a frame of 60 a second for
/// the highest quality; twice as much for the middle one, which draws them so only when they are
/// still.
void PatientPicture::time_quality() {
  constexpr int kEvery = 5;             // frames: within the first second, not all at once
  constexpr double kPixels = 120000;    // of the lids of one eye, life size in 1280 x 720
  constexpr int kEnoughPixels = 20000;  // to be told from what every drawing costs
  constexpr double kOfOneSample = 2;    // times as long with four, in software
  constexpr double kHighMs = 8;
  constexpr double kMediumMs = 30;
  if (to_time_ == 0 || ++frames_ % kEvery != 0) return;
  glFinish();
  const auto start = std::chrono::steady_clock::now();
  const int pixels = layer_.repeat_eye();
  glFinish();
  if (pixels < kEnoughPixels) return;
  const std::chrono::duration<double, std::milli> took = std::chrono::steady_clock::now() - start;
  least_ms_ = std::min(least_ms_, took.count() * kPixels / pixels);
  if (--to_time_ > 0) return;
  const double blink_ms = 2 * kOfOneSample * least_ms_;
  if (blink_ms < kHighMs) {
    layer_.set_quality(face::Quality::kHigh);
  } else if (blink_ms < kMediumMs) {
    layer_.set_quality(face::Quality::kMedium);
  }
}

void PatientPicture::draw(const scene::Scene& scene, int width, int height, GLuint target) {
  draw_at(scene, {0, 0, width, height}, target);
}

namespace {

/// How far beside the opening between the lids, at most 16 mm from its middle, a lens may show it.
float calc_reach(const scene::Lens& lens) {
  constexpr double kLensToEye = 0.0155;  // m
  const double power = std::max(std::abs(lens.power_xx_d), std::abs(lens.power_yy_d)) +
                       std::abs(lens.power_xy_d) + lens.add_d;
  const double off = 16 + std::abs(lens.centre_x_mm) + std::abs(lens.centre_y_mm);
  const double bent = kLensToEye * power;
  const double prism = 1000 * kLensToEye * (std::abs(lens.prism_x) + std::abs(lens.prism_y));
  return static_cast<float>(2 + bent * off / std::max(1 - bent, 0.3) + prism);
}

}  // namespace

/// Spectacles stay while the eyes behind them move: only what shows an eye has to be drawn again.
/// None: everything.
std::vector<gl::PixelBox> PatientPicture::find_parts(const scene::Scene& scene,
                                                     const face::Camera& camera) const {
  const bool alone = !scene.occluder.present && scene.prisms.empty() &&
                     scene.trial_lens_d[0] == 0.0 && scene.trial_lens_d[1] == 0.0;
  if (!last_ || !scene.spectacles.worn || !alone) return {};
  scene::Scene same = *last_;
  same.eyes = scene.eyes;
  same.fidget_ms = scene.fidget_ms;
  if (same != scene || last_camera_ != camera) return {};
  std::vector<gl::PixelBox> parts;
  for (const std::size_t side : {0U, 1U}) {
    const glm::vec4 open = face::calc_opening(*model_.lids, side, layer_.line(side),
                                              calc_reach(scene.spectacles.lenses[side]));
    glm::vec2 low(1e9F);
    glm::vec2 high(-1e9F);
    for (const float x : {open.x, open.z}) {
      for (const float y : {open.y, open.w}) {
        const glm::vec2 p = camera.to_pixels({x, y, face::kEntrancePupil});
        low = glm::min(low, p);
        high = glm::max(high, p);
      }
    }
    const glm::ivec2 from(glm::clamp(glm::floor(low), -1e6F, 1e6F));
    const glm::ivec2 to(glm::clamp(glm::ceil(high), -1e6F, 1e6F));
    parts.push_back(gl::calc_overlap({from.x, from.y, to.x - from.x, to.y - from.y},
                                     {0, 0, camera.width, camera.height}));
  }
  return parts;
}

void PatientPicture::compose(const scene::Scene& scene, const face::Camera& camera,
                             gl::PixelBox part) {
  if (part.width <= 0 || part.height <= 0) return;
  gl::copy_box(layer_.picture().framebuffer(), composed_.framebuffer(), part);
  glBindFramebuffer(GL_FRAMEBUFFER, composed_.framebuffer());
  glEnable(GL_SCISSOR_TEST);
  glScissor(part.x, part.y, part.width, part.height);
  eyes_.draw(scene, camera, layer_);
  instruments_->draw(scene, camera, composed_, part);
}

/// A head that has moved by whole pixels is the same picture at another place: nothing of it has to
/// be drawn again, and no eye is seen otherwise than it was. What stands before it stays.
void PatientPicture::draw_moved(const scene::Scene& scene, const face::Camera& camera,
                                glm::ivec2 by) {
  const gl::PixelBox all{0, 0, camera.width, camera.height};
  scene::Scene head = scene;
  head.occluder.present = false;
  head.prisms.clear();
  head.trial_lens_d = {};
  scene::Scene before = scene;
  before.spectacles.worn = false;
  gl::copy_box(layer_.picture().framebuffer(), composed_.framebuffer(), all);
  glBindFramebuffer(GL_FRAMEBUFFER, composed_.framebuffer());
  eyes_.draw(scene, camera, layer_);
  instruments_->draw(head, camera, composed_, all);
  if (moved_.width() != camera.width || moved_.height() != camera.height) {
    moved_ = gl::RenderTarget(camera.width, camera.height, 1);
  }
  // First unmoved, so that the edge that the head has left shows what was beside it.
  gl::copy_box(composed_.framebuffer(), moved_.framebuffer(), all);
  gl::copy_scaled(composed_.framebuffer(), all, moved_.framebuffer(),
                  {by.x, by.y, all.width, all.height});
  instruments_->draw(before, camera, moved_, all);
  last_.reset();
}

void PatientPicture::draw_at(const scene::Scene& scene, gl::PixelBox box, GLuint target) {
  if (box.width <= 0 || box.height <= 0) return;
  const face::Camera camera = face::make_camera(scene, box.width, box.height);
  const std::vector<gl::PixelBox> stale = layer_.update(scene, camera);
  time_quality();
  const gl::PixelBox all{0, 0, box.width, box.height};
  if (composed_.width() != box.width || composed_.height() != box.height) {
    composed_ = gl::RenderTarget(box.width, box.height, 1);
    last_.reset();
  }
  const glm::ivec2 by(
      glm::round(face::calc_fidget_mm(model_.who, scene.fidget_ms) / camera.mm_per_pixel));
  if (by != glm::ivec2(0)) {
    draw_moved(scene, camera, by);
    finish(moved_, box, target);
    return;
  }
  const std::vector<gl::PixelBox> parts =
      stale.empty() ? find_parts(scene, camera) : std::vector<gl::PixelBox>{};
  if (parts.empty()) {
    // Only what has changed is copied: the layer where it was redrawn, and where instruments stood.
    for (const gl::PixelBox& part : last_ ? stale : std::vector<gl::PixelBox>{all}) {
      gl::copy_box(layer_.picture().framebuffer(), composed_.framebuffer(),
                   gl::calc_overlap(part, all));
    }
    gl::copy_box(layer_.picture().framebuffer(), composed_.framebuffer(),
                 gl::calc_overlap(dirty_, all));
    glBindFramebuffer(GL_FRAMEBUFFER, composed_.framebuffer());
    eyes_.draw(scene, camera, layer_);
    dirty_ = instruments_->draw(scene, camera, composed_, all);
  } else {
    for (const gl::PixelBox& part : parts) compose(scene, camera, part);
  }
  last_ = scene;
  last_camera_ = camera;
  finish(composed_, box, target);
}

void PatientPicture::finish(const gl::RenderTarget& picture, gl::PixelBox box, GLuint target) {
  gl::copy_scaled(picture.framebuffer(), {0, 0, box.width, box.height}, target, box);
  glBindFramebuffer(GL_FRAMEBUFFER, target);
  glBindVertexArray(0);
  glUseProgram(0);
  gl::bind_texture(0, 0);
}

}  // namespace redress::draw
