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
                                             std::size_t k, const face::Camera& camera) {
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
  // The eight corners as the examiner sees them on that plane.
  const vec3 eye = camera.eye_in_head - w.centre;
  const glm::vec2 from(glm::dot(eye, stand.base), glm::dot(eye, stand.along));
  const float before = std::max(glm::dot(eye, stand.normal) - most, 1.0F);
  constexpr float kBeside = 0.3F;  // mm, of soft edges
  glm::vec2 low(-w.half_width, -w.half_step);
  glm::vec2 high = -low;
  for (const glm::vec2 corner : {low, high}) {
    const glm::vec2 seen = corner + (from - corner) * (most / (before + most));
    low = glm::min(low, seen);
    high = glm::max(high, seen);
  }
  w.quad = vec4(low - kBeside, high + kBeside);
  return w;
}

gl::PixelBox PrismPainter::calc_box(const scene::Prism& prism, const face::Camera& camera) {
  const Stand stand = make_stand(prism);
  gl::PixelBox box;
  double most = 0;
  for (std::size_t k = 0; k < prism.steps.size(); ++k) {
    const Wedge w = make_wedge(prism, stand, k, camera);
    box = gl::calc_union(box, calc_pixels(w.plane, w.quad, camera));
    most = std::max(most, prism.steps[k].apex_angle_deg);
  }
  // What is shown is displaced by at most about this much.
  const int reach = static_cast<int>((4 + 0.7 * most) / static_cast<double>(camera.mm_per_pixel));
  return gl::calc_overlap(
      {box.x - reach, box.y - reach, box.width + 2 * reach, box.height + 2 * reach},
      {0, 0, camera.width, camera.height});
}

/// The rectangle on a wedge's plane through which every ray goes in at the front and out at the
/// back, clear of the edges' lines; empty where there is none or a ray may be reflected within.
vec4 PrismPainter::calc_middle(const Wedge& w, const Stand& stand, const face::Camera& camera) {
  constexpr float kSteepest = 0.7F;  // radians, of the front
  constexpr float kMostAslant = 0.5F;
  const vec3 eye = camera.eye_in_head - w.centre;
  const float most = kApexEdge + 2 * w.half_width * std::tan(w.apex);
  const float before = glm::dot(eye, stand.normal) - most;
  if (before < 100 || w.apex > kSteepest) return vec4(0);
  const glm::vec2 from(glm::dot(eye, stand.base), glm::dot(eye, stand.along));
  const glm::vec2 half(w.half_width, w.half_step);
  if (glm::any(glm::greaterThan((half + glm::abs(from)) / before, glm::vec2(kMostAslant)))) {
    return vec4(0);
  }
  // A ray through p on the plane is at p + (p - from) d / before when it is d deeper, at most at
  // the back; inside it is no steeper, but for what the front bends it towards the base.
  const float deep = most / before;
  const glm::vec2 lines = glm::vec2(0.6F, 0.35F) + camera.mm_per_pixel;
  const glm::vec2 low = glm::max(-half, (deep * from - half) / (1 + deep)) + lines;
  glm::vec2 high = glm::min(half, (deep * from + half) / (1 + deep)) - lines;
  high.x -= 0.4F * most * std::tan(w.apex);
  if (high.x - low.x < 2 || high.y - low.y < 2) return vec4(0);
  return {low, high};
}

PrismPainter::PrismPainter()
    : edges_("instrument.vert", "prism.frag"),
      middle_("prism_middle.vert", "prism_middle.frag"),
      engraver_("instrument.vert", "engraving.frag"),
      empty_(gl::VertexArray::make()),
      engraving_(make_engraving()) {}

void PrismPainter::set_common(const gl::Program& program, const scene::Prism& prism,
                              const Stand& stand, const scene::Scene& scene,
                              const face::Camera& camera) const {
  program.use();
  face::set_light(program, camera, scene.light.room);
  program.set("uBehind", 0);
  program.set("uPixels", glm::vec2(camera.width, camera.height));
  program.set("uPixel", camera.mm_per_pixel);
  program.set("uEyePlane", face::kEntrancePupil);
  program.set("uIndex", static_cast<float>(prism.refractive_index));
  program.set("uSpread", static_cast<float>(0.5 / prism.abbe));
  program.set("uNormal", stand.normal);
  program.set("uBase", stand.base);
  program.set("uAlong", stand.along);
}

void PrismPainter::set_wedge(const gl::Program& program, const Wedge& w, bool of_bar) {
  program.set("uCentre", w.centre);
  program.set("uApex", w.apex);
  program.set("uSize", vec4(w.half_width, w.half_step, kApexEdge, of_bar ? 1.0F : 0.0F));
}

void PrismPainter::draw(const scene::Prism& prism, const scene::Scene& scene,
                        const face::Camera& camera, const Behind& behind) {
  constexpr int kCells = 8;          // as in prism_middle.vert
  constexpr float kOverlap = 0.06F;  // mm, so that no pixel falls between middle and edges
  const Stand stand = make_stand(prism);
  const bool bar = prism.form == scene::PrismForm::kBar;
  std::vector<Wedge> wedges;
  std::vector<vec4> middles;
  for (std::size_t k = 0; k < prism.steps.size(); ++k) {
    const Wedge w = make_wedge(prism, stand, k, camera);
    const gl::PixelBox seen = calc_pixels(w.plane, w.quad, camera);
    if (seen.width <= 0 || seen.height <= 0) continue;
    wedges.push_back(w);
    middles.push_back(calc_middle(w, stand, camera));
  }
  if (wedges.empty()) return;
  gl::bind_texture(1, engraving_.id());
  gl::bind_texture(0, behind.texture);
  glDisable(GL_BLEND);  // what is behind comes from the copy: what is there need not be read
  set_common(edges_, prism, stand, scene, camera);
  edges_.set("uStored", behind.as_stored ? 1.0F : 0.0F);
  for (std::size_t k = 0; k < wedges.size(); ++k) {
    set_wedge(edges_, wedges[k], bar);
    const vec4 inner = middles[k] + vec4(kOverlap, kOverlap, -kOverlap, -kOverlap);
    const bool whole = middles[k] == vec4(0);
    draw_around(edges_, wedges[k].plane, wedges[k].quad, whole ? vec4(0) : inner, empty_);
  }
  set_common(middle_, prism, stand, scene, camera);
  middle_.set("uStored", behind.as_stored ? 1.0F : 0.0F);
  for (std::size_t k = 0; k < wedges.size(); ++k) {
    if (middles[k] == vec4(0)) continue;
    set_wedge(middle_, wedges[k], bar);
    middle_.set("uOrigin", wedges[k].plane.origin);
    middle_.set("uAcross", wedges[k].plane.across);
    middle_.set("uUpward", wedges[k].plane.upward);
    middle_.set("uQuad", middles[k]);
    glBindVertexArray(empty_.id());
    glDrawArrays(GL_TRIANGLES, 0, 6 * kCells * kCells);
  }
  glEnable(GL_BLEND);
  for (std::size_t k = 0; k < prism.steps.size(); ++k) {
    draw_label(make_wedge(prism, stand, k, camera), stand, prism.steps[k].label_pd, camera, scene);
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
