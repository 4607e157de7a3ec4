// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/draw/occluder_painter.hpp"

#include <algorithm>
#include <cmath>
#include <vector>

#include "render/face/face_layer.hpp"

namespace redress::draw {
namespace {

using glm::vec3;
using glm::vec4;

constexpr float kFacePlane = 13.0F;   // where shadows fall, mm before the centres of rotation
constexpr float kShadowless = 85.0F;  // farther away than this its shadow is too soft to see
constexpr float kHandle = 120.0F;     // length below the plate

/// The plane of the plate, `lift` mm towards the examiner of its middle.
Plane make_plane(const scene::Occluder& o, float lift) {
  const float roll = glm::radians(static_cast<float>(o.roll_deg));
  Plane p;
  p.origin = face::to_picture(o.centre_mm) + vec3(0, 0, lift);
  p.across = {std::cos(roll), std::sin(roll), 0};  // top to the patient's right is -x here
  p.upward = {-std::sin(roll), std::cos(roll), 0};
  return p;
}

}  // namespace

gl::PixelBox calc_pixels(const Plane& plane, vec4 quad, const face::Camera& camera) {
  glm::vec2 low(1e9F);
  glm::vec2 high(-1e9F);
  for (const float x : {quad.x, quad.z}) {
    for (const float y : {quad.y, quad.w}) {
      const glm::vec2 p = camera.to_pixels(plane.origin + plane.across * x + plane.upward * y);
      low = glm::min(low, p);
      high = glm::max(high, p);
    }
  }
  const glm::ivec2 from(glm::floor(glm::clamp(low - 1.0F, -1e6F, 1e6F)));
  const glm::ivec2 to(glm::ceil(glm::clamp(high + 1.0F, -1e6F, 1e6F)));
  return gl::calc_overlap({from.x, from.y, to.x - from.x, to.y - from.y},
                          {0, 0, camera.width, camera.height});
}

void draw_on_plane(const gl::Program& program, const Plane& plane, vec4 quad,
                   const gl::VertexArray& empty) {
  program.set("uOrigin", plane.origin);
  program.set("uAcross", plane.across);
  program.set("uUpward", plane.upward);
  program.set("uQuad", quad);
  glBindVertexArray(empty.id());
  glDrawArrays(GL_TRIANGLES, 0, 6);
}

void draw_around(const gl::Program& program, const Plane& plane, vec4 all, vec4 hole,
                 const gl::VertexArray& empty) {
  const vec4 h(glm::clamp(hole.x, all.x, all.z), glm::clamp(hole.y, all.y, all.w),
               glm::clamp(hole.z, all.x, all.z), glm::clamp(hole.w, all.y, all.w));
  const auto draw = [&](vec4 quad) {
    if (quad.z > quad.x && quad.w > quad.y) draw_on_plane(program, plane, quad, empty);
  };
  draw({all.x, all.y, all.z, h.y});
  draw({all.x, h.w, all.z, all.w});
  draw({all.x, h.y, h.x, h.w});
  draw({h.z, h.y, all.z, h.w});
}

namespace {

/// Of the blade above the middle of its corners' arcs: the flat reaches to `inner`, the plate with
/// its sides to `outer`, mm from the middle.
struct Slice {
  float low = 0;
  float high = 0;
  float inner = 0;
  float outer = 0;
};

std::vector<Slice> make_slices(glm::vec2 middle, float flat_radius, float whole_radius) {
  constexpr int kSlices = 6;
  std::vector<Slice> slices;
  for (int k = 0; k < kSlices; ++k) {
    constexpr float kQuarter = 1.5707963F;
    const float from = kQuarter * static_cast<float>(k) / kSlices;
    const float to = kQuarter * static_cast<float>(k + 1) / kSlices;
    Slice s;
    s.low = middle.y + flat_radius * std::sin(from);
    s.high = middle.y + flat_radius * std::sin(to);
    s.inner = middle.x + flat_radius * std::max(std::cos(to), 0.0F);
    const float above = s.low - middle.y;
    s.outer = middle.x + std::sqrt(whole_radius * whole_radius - above * above);
    slices.push_back(s);
  }
  return slices;
}

}  // namespace

OccluderPainter::OccluderPainter()
    : plate_("instrument.vert", "occluder.frag"),
      blade_("blade.vert", "blade.frag"),
      shadow_("instrument.vert", "shadow.frag"),
      hand_("instrument.vert", "hand.frag"),
      empty_(gl::VertexArray::make()) {}

void OccluderPainter::set_common(const gl::Program& program, const scene::Scene& scene,
                                 const face::Camera& camera) const {
  const scene::Occluder& o = scene.occluder;
  program.use();
  face::set_light(program, camera, scene.light.room);
  program.set("uPlate", vec4(0.5 * o.width_mm, 0.5 * o.height_mm, o.corner_mm, o.thickness_mm));
  program.set("uPixel", camera.mm_per_pixel);
}

gl::PixelBox OccluderPainter::draw_shadow(const scene::Scene& scene, const face::Camera& camera) {
  const scene::Occluder& o = scene.occluder;
  const Plane plate = make_plane(o, 0);
  const float gap = plate.origin.z - kFacePlane;
  if (gap < 1 || gap > kShadowless) return {};
  set_common(shadow_, scene, camera);
  const vec3 key = glm::transpose(camera.head_to_room) * face::key_lamp();
  const vec3 lean = key * (gap / key.z);
  const glm::vec2 shift(glm::dot(lean, plate.across), glm::dot(lean, plate.upward));
  shadow_.set("uShift", shift);
  shadow_.set("uGap", gap);
  const float clear = o.translucent || scene.transparent_occluder ? 0.35F : 1.0F;
  shadow_.set("uStrength", clear * face::ramp(kShadowless, 35.0F, gap));
  Plane face_plane = plate;
  face_plane.origin.z = kFacePlane;
  const float soft = 3.0F + 0.36F * gap;  // as wide as the softer of both edges in the shader
  const glm::vec2 half(0.5F * static_cast<float>(o.width_mm),
                       0.5F * static_cast<float>(o.height_mm));
  const vec4 quad(-half.x - soft - std::max(shift.x, 0.0F),
                  -half.y - soft - std::max(shift.y, 0.0F) - kHandle,
                  half.x + soft - std::min(shift.x, 0.0F), half.y + soft - std::min(shift.y, 0.0F));
  const auto draw = [&](vec4 part) {
    if (part.z > part.x && part.w > part.y) draw_on_plane(shadow_, face_plane, part, empty_);
  };
  glBlendFunc(GL_ZERO, GL_SRC_COLOR);
  // Beside the handle no more than the handle's own.
  const float plate_end = quad.y + kHandle - 4;
  const float beside = 9 + soft;
  draw({-beside - std::max(shift.x, 0.0F), quad.y, beside - std::min(shift.x, 0.0F), plate_end});
  const vec4 upper(quad.x, plate_end, quad.z, quad.w);
  const vec3 eye = camera.eye_in_head - plate.origin;
  const float corner = std::clamp(static_cast<float>(o.corner_mm), 3.0F, std::min(half.x, half.y));
  if (o.translucent || scene.transparent_occluder || eye.z <= 1) {
    draw(upper);
  } else {
    // Not where the plate itself will hide it: what the examiner sees of the plate, on the face.
    constexpr float kSafe = 0.7F;
    const glm::vec2 from_eye(glm::dot(eye, plate.across), glm::dot(eye, plate.upward));
    const float out = (eye.z - (kFacePlane - plate.origin.z)) / eye.z;
    std::vector<Slice> rows = make_slices(half - corner, corner - kSafe, corner);
    const std::size_t above = rows.size();
    for (std::size_t k = 0; k < above; ++k) {
      rows.push_back({-rows[k].high, -rows[k].low, rows[k].inner, 0});
    }
    rows.push_back({corner - half.y, half.y - corner, half.x - kSafe, 0});
    float low = upper.w;
    float high = upper.y;
    for (const Slice& row : rows) {
      const glm::vec2 from = from_eye + (glm::vec2(-row.inner, row.low) - from_eye) * out;
      const glm::vec2 to = from_eye + (glm::vec2(row.inner, row.high) - from_eye) * out;
      draw({upper.x, from.y, from.x, to.y});
      draw({to.x, from.y, upper.z, to.y});
      low = std::min(low, from.y);
      high = std::max(high, to.y);
    }
    draw({upper.x, upper.y, upper.z, low});
    draw({upper.x, high, upper.z, upper.w});
  }
  glBlendFunc(GL_ONE, GL_ONE_MINUS_SRC_ALPHA);
  return calc_pixels(face_plane, quad, camera);
}

bool OccluderPainter::shows_hand(const scene::Scene& scene) {
  return scene.occluder.present && scene.occluder.hand && !scene.transparent_occluder;
}

void OccluderPainter::prepare(const scene::Scene& scene) {
  if (!shows_hand(scene) || thumb_map_.skin) return;
  thumb_map_ = make_hand_map(HandPart::kThumb, empty_);
  fingers_map_ = make_hand_map(HandPart::kFingers, empty_);
}

gl::PixelBox OccluderPainter::draw_hand(const scene::Scene& scene, const face::Camera& camera,
                                        HandPart part) {
  const bool thumb = part == HandPart::kThumb;
  const HandMap& map = thumb ? thumb_map_ : fingers_map_;
  const float y = -0.5F * static_cast<float>(scene.occluder.height_mm);
  const Plane plane = make_plane(scene.occluder, thumb ? 7.0F : -4.0F);
  const vec4 quad = map.box + vec4(0, y, 0, y);
  const gl::PixelBox box = calc_pixels(plane, quad, camera);
  if (box.width <= 0 || box.height <= 0) return {};
  set_common(hand_, scene, camera);
  hand_.set("uSkin", 0);
  hand_.set("uShape", 1);
  hand_.set("uMap", quad);
  gl::bind_texture(1, map.shape.id());
  gl::bind_texture(0, map.skin.id());
  for (const HandStripe& each : map.stripes) {
    const float low = y + each.low;
    const float high = y + each.high;
    const gl::PixelBox seen = calc_pixels(plane, {each.from, low, each.to, high}, camera);
    if (seen.width <= 0 || seen.height <= 0) continue;
    draw_on_plane(hand_, plane, {each.from, low, each.whole_from, high}, empty_);
    draw_on_plane(hand_, plane, {each.whole_to, low, each.to, high}, empty_);
    if (each.whole_to <= each.whole_from) continue;
    glDisable(GL_BLEND);  // nothing behind it shows: what is there need not be read
    draw_on_plane(hand_, plane, {each.whole_from, low, each.whole_to, high}, empty_);
    glEnable(GL_BLEND);
  }
  return box;
}

void OccluderPainter::draw_plate(const scene::Scene& scene, const face::Camera& camera,
                                 const Plane& plane, GLuint blurred) {
  const scene::Occluder& o = scene.occluder;
  const float x = 0.5F * static_cast<float>(o.width_mm);
  const float y = 0.5F * static_cast<float>(o.height_mm);
  constexpr float kRim = 2.7F;  // what the full shader has to draw, from the edge inwards
  constexpr float kOut = 3;     // and outwards: the side of the plate, seen at a slant
  const bool plain = !o.translucent && !scene.transparent_occluder;
  set_common(plate_, scene, camera);
  plate_.set("uBehind", 0);
  plate_.set("uPixels", glm::vec2(camera.width, camera.height));
  plate_.set("uKind", scene.transparent_occluder ? 2 : (o.translucent ? 1 : 0));
  gl::bind_texture(0, blurred);
  const auto draw = [&](const gl::Program& program, vec4 quad) {
    draw_on_plane(program, plane, quad, empty_);
  };
  draw(plate_, {-9, -y - kOut - kHandle, 9, -y - kOut});
  if (!plain) {
    draw(plate_, {-x - kOut, -y - kOut, x + kOut, y + kOut});
    return;
  }
  // The flat middle of the blade in slices that follow its round corners; the full shader beside
  // them. All reach a little over one another: no pixel may fall between and show what is covered.
  constexpr float kOverlap = 0.06F;
  const float corner = std::clamp(static_cast<float>(o.corner_mm), kRim + 0.5F, std::min(x, y));
  const glm::vec2 middle(x - corner, y - corner);  // of a corner's arc
  const std::vector<Slice> slices = make_slices(middle, corner - kRim, corner + kOut);
  const float inner = middle.x + corner - kRim;
  draw(plate_, {-x - kOut, -middle.y, kOverlap - inner, middle.y});
  draw(plate_, {inner - kOverlap, -middle.y, x + kOut, middle.y});
  const auto both_ways = [&](const gl::Program& program, vec4 quad) {
    draw(program, quad);
    draw(program, {quad.x, -quad.w, quad.z, -quad.y});
  };
  for (const Slice& each : slices) {
    both_ways(plate_, {-each.outer, each.low, kOverlap - each.inner, each.high});
    both_ways(plate_, {each.inner - kOverlap, each.low, each.outer, each.high});
  }
  const float top = slices.back().high;
  both_ways(plate_, {-slices.back().outer, top, slices.back().outer, y + kOut});
  set_common(blade_, scene, camera);
  glDisable(GL_BLEND);  // nothing behind it shows: what is there need not be read
  draw(blade_, {-inner, -middle.y, inner, middle.y});
  for (const Slice& each : slices) {
    both_ways(blade_, {-each.inner, each.low - kOverlap, each.inner, each.high});
  }
  glEnable(GL_BLEND);
}

gl::PixelBox OccluderPainter::draw(const scene::Scene& scene, const face::Camera& camera,
                                   GLuint blurred) {
  const scene::Occluder& o = scene.occluder;
  const bool hand = shows_hand(scene);
  gl::PixelBox box;
  if (hand) box = draw_hand(scene, camera, HandPart::kFingers);
  const float x = 0.5F * static_cast<float>(o.width_mm) + 3;
  const float y = 0.5F * static_cast<float>(o.height_mm) + 3;
  const Plane plane = make_plane(o, 0.5F * static_cast<float>(o.thickness_mm));
  const vec4 blade(-x, -y, x, y);
  const vec4 handle(-9, -y - kHandle, 9, -y);
  draw_plate(scene, camera, plane, blurred);
  box = gl::calc_union(
      box, gl::calc_union(calc_pixels(plane, blade, camera), calc_pixels(plane, handle, camera)));
  if (hand) box = gl::calc_union(box, draw_hand(scene, camera, HandPart::kThumb));
  return box;
}

}  // namespace redress::draw
