// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/draw/occluder_painter.hpp"

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

namespace {

/// A rectangle less the one that lies within it.
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

}  // namespace

OccluderPainter::OccluderPainter()
    : plate_("instrument.vert", "occluder.frag"),
      blade_("instrument.vert", "blade.frag"),
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
  // Not where the plate itself will hide it: what the examiner sees of the plate, on the face.
  const vec3 eye = camera.eye_in_head - plate.origin;
  const glm::vec2 from_eye(glm::dot(eye, plate.across), glm::dot(eye, plate.upward));
  const glm::vec2 flat = half - std::max(static_cast<float>(o.corner_mm), 3.0F) * 0.4F;
  const float out = (eye.z - (kFacePlane - plate.origin.z)) / eye.z;
  const bool hides = !o.translucent && !scene.transparent_occluder && eye.z > 1;
  const glm::vec2 low = hides ? from_eye + (-flat - from_eye) * out : glm::vec2(0);
  const glm::vec2 high = hides ? from_eye + (flat - from_eye) * out : glm::vec2(0);
  glBlendFunc(GL_ZERO, GL_SRC_COLOR);
  draw_around(shadow_, face_plane, quad, {low, high}, empty_);
  glBlendFunc(GL_ONE, GL_ONE_MINUS_SRC_ALPHA);
  return calc_pixels(face_plane, quad, camera);
}

gl::PixelBox OccluderPainter::draw_hand(const scene::Scene& scene, const face::Camera& camera,
                                        bool thumb) {
  const float y = -0.5F * static_cast<float>(scene.occluder.height_mm);
  const Plane plane = make_plane(scene.occluder, thumb ? 7.0F : -4.0F);
  const vec4 quad(-45, y - 110, 50, y - 12);
  const gl::PixelBox box = calc_pixels(plane, quad, camera);
  if (box.width <= 0 || box.height <= 0) return {};
  set_common(hand_, scene, camera);
  hand_.set("uThumb", thumb ? 1.0F : 0.0F);
  draw_on_plane(hand_, plane, quad, empty_);
  return box;
}

void OccluderPainter::draw_plate(const scene::Scene& scene, const face::Camera& camera,
                                 const Plane& plane, GLuint blurred) {
  const scene::Occluder& o = scene.occluder;
  const float x = 0.5F * static_cast<float>(o.width_mm);
  const float y = 0.5F * static_cast<float>(o.height_mm);
  constexpr float kRim = 4.5F;  // what the full shader has to draw, from the edge inwards
  constexpr float kOut = 3;     // and outwards: the side of the plate, seen at a slant
  const float corner = static_cast<float>(o.corner_mm);
  const float fits = 0.7F * std::max(corner - kRim, 0.0F);  // of a square inside the corner's arc
  const float wide = x - kRim;
  const float tall = y - std::max(corner, kRim);
  const float narrow = x - std::max(corner, kRim) + fits;
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
  // Round the flat middle of the blade: sides, then what is left above and below it.
  draw(plate_, {-x - kOut, -tall, -wide, tall});
  draw(plate_, {wide, -tall, x + kOut, tall});
  for (const float s : {-1.0F, 1.0F}) {
    const auto strip = [&](float x0, float x1, float y0, float y1) {
      draw(plate_, {x0, std::min(s * y0, s * y1), x1, std::max(s * y0, s * y1)});
    };
    strip(-x - kOut, -narrow, tall, tall + fits);
    strip(narrow, x + kOut, tall, tall + fits);
    strip(-x - kOut, x + kOut, tall + fits, y + kOut);
  }
  set_common(blade_, scene, camera);
  draw(blade_, {-wide, -tall, wide, tall});
  draw(blade_, {-narrow, tall, narrow, tall + fits});
  draw(blade_, {-narrow, -tall - fits, narrow, -tall});
}

gl::PixelBox OccluderPainter::draw(const scene::Scene& scene, const face::Camera& camera,
                                   GLuint blurred) {
  const scene::Occluder& o = scene.occluder;
  const bool hand = o.hand && !scene.transparent_occluder;
  gl::PixelBox box;
  if (hand) box = draw_hand(scene, camera, false);
  const float x = 0.5F * static_cast<float>(o.width_mm) + 3;
  const float y = 0.5F * static_cast<float>(o.height_mm) + 3;
  const Plane plane = make_plane(o, 0.5F * static_cast<float>(o.thickness_mm));
  const vec4 blade(-x, -y, x, y);
  const vec4 handle(-9, -y - kHandle, 9, -y);
  draw_plate(scene, camera, plane, blurred);
  box = gl::calc_union(
      box, gl::calc_union(calc_pixels(plane, blade, camera), calc_pixels(plane, handle, camera)));
  if (hand) box = gl::calc_union(box, draw_hand(scene, camera, true));
  return box;
}

}  // namespace redress::draw
