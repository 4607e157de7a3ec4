// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/draw/prism_painter.hpp"

#include <algorithm>

#include "render/draw/engraving.hpp"
#include "render/face/face_layer.hpp"

namespace redress::draw {
namespace {

using glm::vec3;
using glm::vec4;

constexpr float kApexEdge = 1.6F;  // thickness of the glass at its apex, mm

}  // namespace

/// Where and how one prism stands; the picture's frame.
struct PrismPainter::Stand {
  vec3 back;
  vec3 normal;
  vec3 base;   // towards the base, in the back face
  vec3 along;  // along a bar
};

PrismPainter::Stand PrismPainter::make_stand(const scene::Prism& prism) {
  const float beta = glm::radians(static_cast<float>(prism.base_deg));
  Stand s{};
  s.back = face::to_picture(prism.back_centre_mm);
  s.normal = glm::normalize(face::to_picture(prism.back_normal));
  // (-cos, sin) in the head's x, y is (cos, sin) here.
  const vec3 base(std::cos(beta), std::sin(beta), 0);
  s.base = glm::normalize(base - s.normal * glm::dot(base, s.normal));
  s.along = glm::cross(s.base, s.normal);
  return s;
}

/// One step of a prism: where its back is, how thick it gets, and the rectangle that holds it.
struct PrismPainter::Wedge {
  vec3 centre;
  float apex = 0;
  float half_width = 0;
  float half_step = 0;
  Plane plane;
  vec4 quad{0};
};

PrismPainter::Wedge PrismPainter::make_wedge(const scene::Prism& prism, const Stand& stand,
                                             std::size_t k) {
  const bool bar = prism.form == scene::PrismForm::kBar;
  Wedge w{};
  w.half_width = 0.5F * static_cast<float>(bar ? prism.bar_width_mm : prism.loose_mm);
  w.half_step = 0.5F * static_cast<float>(bar ? prism.step_mm : prism.loose_mm);
  const float place = 2 * w.half_step * (static_cast<float>(k) - static_cast<float>(prism.at)) -
                      static_cast<float>(prism.slide_mm);
  w.centre = stand.back + stand.along * place;
  w.apex = glm::radians(static_cast<float>(prism.steps[k].apex_angle_deg));
  const float most = kApexEdge + 2 * w.half_width * std::tan(w.apex);
  w.plane = {w.centre + stand.normal * most, stand.base, stand.along};
  const float margin = 2 + 0.12F * most;
  w.quad = {-w.half_width - margin, -w.half_step - margin, w.half_width + margin,
            w.half_step + margin};
  return w;
}

gl::PixelBox PrismPainter::calc_box(const scene::Prism& prism, const face::Camera& camera) {
  const Stand stand = make_stand(prism);
  gl::PixelBox box;
  double most = 0;
  for (std::size_t k = 0; k < prism.steps.size(); ++k) {
    const Wedge w = make_wedge(prism, stand, k);
    box = gl::calc_union(box, calc_pixels(w.plane, w.quad, camera));
    most = std::max(most, prism.steps[k].apex_angle_deg);
  }
  // What is shown is displaced by at most about this much.
  const int reach = static_cast<int>((4 + 0.7 * most) / static_cast<double>(camera.mm_per_pixel));
  return gl::calc_overlap(
      {box.x - reach, box.y - reach, box.width + 2 * reach, box.height + 2 * reach},
      {0, 0, camera.width, camera.height});
}

PrismPainter::PrismPainter()
    : program_("instrument.vert", "prism.frag"),
      engraver_("instrument.vert", "engraving.frag"),
      empty_(gl::VertexArray::make()),
      engraving_(make_engraving()) {}

void PrismPainter::draw(const scene::Prism& prism, const scene::Scene& scene,
                        const face::Camera& camera, GLuint behind) {
  if (prism.steps.empty()) return;
  const Stand stand = make_stand(prism);
  program_.use();
  face::set_light(program_, camera, scene.light.room);
  program_.set("uBehind", 0);
  program_.set("uPixels", glm::vec2(camera.width, camera.height));
  program_.set("uPixel", camera.mm_per_pixel);
  program_.set("uEyePlane", face::kEntrancePupil);
  program_.set("uIndex", static_cast<float>(prism.refractive_index));
  program_.set("uSpread", static_cast<float>(0.5 / prism.abbe));
  program_.set("uNormal", stand.normal);
  program_.set("uBase", stand.base);
  program_.set("uAlong", stand.along);
  gl::bind_texture(1, engraving_.id());
  gl::bind_texture(0, behind);
  for (std::size_t k = 0; k < prism.steps.size(); ++k) {
    const Wedge w = make_wedge(prism, stand, k);
    program_.set("uCentre", w.centre);
    program_.set("uApex", w.apex);
    const bool bar = prism.form == scene::PrismForm::kBar;
    program_.set("uSize", vec4(w.half_width, w.half_step, kApexEdge, bar ? 1.0F : 0.0F));
    draw_on_plane(program_, w.plane, w.quad, empty_);
  }
  for (std::size_t k = 0; k < prism.steps.size(); ++k) {
    draw_label(make_wedge(prism, stand, k), stand, prism.steps[k].label_pd, camera, scene);
  }
}

void PrismPainter::draw_label(const Wedge& w, const Stand& stand, double power_pd,
                              const face::Camera& camera, const scene::Scene& scene) {
  const std::array<int, 4> label = make_label(power_pd);
  if (label[0] == kNoGlyph) return;
  // Upright for the examiner whichever way the prism runs, in the lower corner next to the base.
  const bool upright = std::abs(stand.along.y) > std::abs(stand.base.y);
  const float along = (upright ? stand.along.y : stand.along.x) > 0 ? -1.0F : 1.0F;
  const float from_base = w.half_width - (upright ? 4.6F : 3.4F);
  const float from_end = w.half_step - (upright ? 3.4F : 4.6F);
  const vec3 front = stand.base * std::cos(w.apex) + stand.normal * std::sin(w.apex);
  const float depth = kApexEdge + (w.half_width + from_base) * std::tan(w.apex);
  Plane page;
  page.origin = w.centre + stand.base * from_base + stand.along * (along * from_end) +
                stand.normal * (depth + 0.05F);
  vec3 across = upright ? front : stand.along;
  vec3 upward = upright ? stand.along : front;
  if (across.x < 0) across = -across;
  if (upward.y < 0) upward = -upward;
  page.across = across;
  page.upward = upward;
  const auto digits = static_cast<float>(
      std::count_if(label.begin(), label.end(), [](int g) { return g != kNoGlyph; }));
  engraver_.use();
  face::set_light(engraver_, camera, scene.light.room);
  engraver_.set("uEngraving", 1);
  engraver_.set("uPixel", camera.mm_per_pixel);
  engraver_.set("uLabel", vec4(label[0], label[1], label[2], label[3]));
  engraver_.set("uDigits", digits);
  draw_on_plane(engraver_, page, {-1.25F * digits, -1.9F, 1.25F * digits, 1.9F}, empty_);
}

}  // namespace redress::draw
