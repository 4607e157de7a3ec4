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
constexpr float kHandleMm = 120.0F;   // length below the plate

/// The plane of the plate, `lift` mm towards the examiner of its middle, upright as the blade is.
Plane make_plane(const scene::Occluder& o, float lift, double roll_deg) {
  const float roll = glm::radians(static_cast<float>(roll_deg));
  Plane p;
  p.origin = face::to_picture(o.centre_mm) + vec3(0, 0, lift);
  p.across = {std::cos(roll), std::sin(roll), 0};  // top to the patient's right is -x here
  p.upward = {-std::sin(roll), std::cos(roll), 0};
  return p;
}
Plane make_blade_plane(const scene::Occluder& o, float lift) {
  return make_plane(o, lift, o.roll_deg);
}
/// The same, upright as the handle is.
Plane make_handle_plane(const scene::Occluder& o, float lift) {
  return make_plane(o, lift, o.roll_deg - o.handle_deg);
}

enum class Upright { kBlade, kHandle };

/// Tells a shader how blade and handle lie on the plane that it draws on.
void set_turn(const gl::Program& program, const scene::Occluder& o, Upright upright) {
  const auto angle = static_cast<float>(glm::radians(o.handle_deg));
  const float c = std::cos(angle);
  const float s = std::sin(angle);
  program.set("uTurn", upright == Upright::kBlade ? vec4(1, 0, c, -s) : vec4(c, s, 1, 0));
}

/// Of blade and handle: seen through, so that nothing may be drawn twice.
bool is_plain(const scene::Scene& scene) {
  return !scene.occluder.translucent && !scene.transparent_occluder;
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
      held_shadow_("instrument.vert", "held_shadow.frag"),
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
  const float gap = make_blade_plane(scene.occluder, 0).origin.z - kFacePlane;
  if (gap < 1 || gap > kShadowless) return {};
  glBlendFunc(GL_ZERO, GL_SRC_COLOR);
  const gl::PixelBox blade = draw_blade_shadow(scene, camera, gap);
  const gl::PixelBox held = draw_held_shadow(scene, camera, gap);
  glBlendFunc(GL_ONE, GL_ONE_MINUS_SRC_ALPHA);
  return gl::calc_union(blade, held);
}

namespace {

/// How wide a shadow's edge is, as the softer of both in the shader.
float calc_softness(float gap) { return 3.0F + 0.36F * gap; }

float calc_strength(float gap) { return face::ramp(kShadowless, 35.0F, gap); }

/// Along a plane, from a point of the face to where its ray to the lamp meets what is held.
glm::vec2 calc_shift(const Plane& plane, const face::Camera& camera, float gap) {
  const vec3 key = glm::transpose(camera.head_to_room) * face::key_lamp();
  const vec3 lean = key * (gap / key.z);
  return {glm::dot(lean, plane.across), glm::dot(lean, plane.upward)};
}

/// A rectangle and its shadow, whole.
vec4 with_shadow(vec4 box, glm::vec2 shift, float soft) {
  return {box.x - soft - std::max(shift.x, 0.0F), box.y - soft - std::max(shift.y, 0.0F),
          box.z + soft - std::min(shift.x, 0.0F), box.w + soft - std::min(shift.y, 0.0F)};
}

/// Where points of a plane that the examiner sees hide the face.
struct OntoFace {
  glm::vec2 from_eye;
  float out;
  OntoFace(const Plane& plane, const vec3& eye)
      : from_eye(glm::dot(eye - plane.origin, plane.across),
                 glm::dot(eye - plane.origin, plane.upward)),
        out((eye.z - kFacePlane) / (eye.z - plane.origin.z)) {}
  glm::vec2 operator()(glm::vec2 p) const { return from_eye + (p - from_eye) * out; }
};

}  // namespace

gl::PixelBox OccluderPainter::draw_blade_shadow(const scene::Scene& scene,
                                                const face::Camera& camera, float gap) {
  const scene::Occluder& o = scene.occluder;
  const Plane plate = make_blade_plane(o, 0);
  const glm::vec2 shift = calc_shift(plate, camera, gap);
  set_common(shadow_, scene, camera);
  shadow_.set("uGap", gap);
  shadow_.set("uShift", shift);
  shadow_.set("uStrength", (is_plain(scene) ? 1.0F : 0.35F) * calc_strength(gap));
  Plane face_plane = plate;
  face_plane.origin.z = kFacePlane;
  const glm::vec2 half(0.5F * static_cast<float>(o.width_mm),
                       0.5F * static_cast<float>(o.height_mm));
  const vec4 all = with_shadow({-half.x, -half.y, half.x, half.y}, shift, calc_softness(gap));
  const auto draw = [&](vec4 part) {
    if (part.z > part.x && part.w > part.y) draw_on_plane(shadow_, face_plane, part, empty_);
  };
  const float corner = std::clamp(static_cast<float>(o.corner_mm), 3.0F, std::min(half.x, half.y));
  if (!is_plain(scene) || camera.eye_in_head.z - plate.origin.z <= 1) {
    draw(all);
  } else {
    // Not where the plate itself will hide it: what the examiner sees of the plate, on the face.
    constexpr float kSafe = 0.7F;
    const OntoFace onto_face(plate, camera.eye_in_head);
    std::vector<Slice> rows = make_slices(half - corner, corner - kSafe, corner);
    const std::size_t above = rows.size();
    for (std::size_t k = 0; k < above; ++k) {
      rows.push_back({-rows[k].high, -rows[k].low, rows[k].inner, 0});
    }
    rows.push_back({corner - half.y, half.y - corner, half.x - kSafe, 0});
    float low = all.w;
    float high = all.y;
    for (const Slice& row : rows) {
      const glm::vec2 from = onto_face({-row.inner, row.low});
      const glm::vec2 to = onto_face({row.inner, row.high});
      draw({all.x, from.y, from.x, to.y});
      draw({to.x, from.y, all.z, to.y});
      low = std::min(low, from.y);
      high = std::max(high, to.y);
    }
    draw({all.x, all.y, all.z, low});
    draw({all.x, high, all.z, all.w});
  }
  return calc_pixels(face_plane, all, camera);
}

gl::PixelBox OccluderPainter::draw_held_shadow(const scene::Scene& scene,
                                               const face::Camera& camera, float gap) {
  const scene::Occluder& o = scene.occluder;
  const bool hand = shows_hand(scene);
  const Plane held = make_handle_plane(o, 0);
  const glm::vec2 shift = calc_shift(held, camera, gap);
  set_common(held_shadow_, scene, camera);
  held_shadow_.set("uGap", gap);
  held_shadow_.set("uShift", shift);
  held_shadow_.set("uHand", hand ? 1.0F : 0.0F);
  set_turn(held_shadow_, o, Upright::kHandle);
  held_shadow_.set("uStrength", calc_strength(gap));
  Plane face_plane = held;
  face_plane.origin.z = kFacePlane;
  const float top = -0.5F * static_cast<float>(o.height_mm);
  const float beside = hand ? 31.0F : 6.0F;
  const vec4 all =
      with_shadow({-beside, top - kHandleMm, beside, top + 4}, shift, calc_softness(gap));
  if (!hand || camera.eye_in_head.z - held.origin.z <= 1) {
    draw_on_plane(held_shadow_, face_plane, all, empty_);
  } else {  // not where the fist will hide it
    const OntoFace onto_face(held, camera.eye_in_head);
    const glm::vec2 from = onto_face({-22, top - 76});
    const glm::vec2 to = onto_face({24, top - 20});
    draw_around(held_shadow_, face_plane, all, {from.x, from.y, to.x, to.y}, empty_);
  }
  return calc_pixels(face_plane, all, camera);
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
  const Plane plane = make_handle_plane(scene.occluder, thumb ? 7.0F : -4.0F);
  const bool left = scene.occluder.left_hand;
  const vec4 quad = map.box + vec4(0, y, 0, y);
  const auto mirror = [left](vec4 q) { return left ? vec4(-q.z, q.y, -q.x, q.w) : q; };
  const gl::PixelBox box = calc_pixels(plane, mirror(quad), camera);
  if (box.width <= 0 || box.height <= 0) return {};
  set_common(hand_, scene, camera);
  hand_.set("uSkin", 0);
  hand_.set("uShape", 1);
  hand_.set("uMap", quad);
  hand_.set("uMirror", left ? -1.0F : 1.0F);
  gl::bind_texture(1, map.shape.id());
  gl::bind_texture(0, map.skin.id());
  for (const HandStripe& each : map.stripes) {
    const float low = y + each.low;
    const float high = y + each.high;
    const auto draw = [&](float from, float to) {
      draw_on_plane(hand_, plane, mirror({from, low, to, high}), empty_);
    };
    const gl::PixelBox seen = calc_pixels(plane, mirror({each.from, low, each.to, high}), camera);
    if (seen.width <= 0 || seen.height <= 0) continue;
    draw(each.from, each.whole_from);
    draw(each.whole_to, each.to);
    if (each.whole_to <= each.whole_from) continue;
    glDisable(GL_BLEND);  // nothing behind it shows: what is there need not be read
    draw(each.whole_from, each.whole_to);
    glEnable(GL_BLEND);
  }
  return box;
}

void OccluderPainter::draw_plate(const scene::Scene& scene, const face::Camera& camera,
                                 GLuint blurred) {
  const scene::Occluder& o = scene.occluder;
  const float x = 0.5F * static_cast<float>(o.width_mm);
  const float y = 0.5F * static_cast<float>(o.height_mm);
  constexpr float kRim = 2.7F;  // what the full shader has to draw, from the edge inwards
  constexpr float kOut = 3;     // and outwards: the side of the plate, seen at a slant
  const bool plain = is_plain(scene);
  const float lift = 0.5F * static_cast<float>(o.thickness_mm);
  const Plane plane = make_blade_plane(o, lift);
  set_common(plate_, scene, camera);
  plate_.set("uBehind", 0);
  plate_.set("uPixels", glm::vec2(camera.width, camera.height));
  plate_.set("uKind", scene.transparent_occluder ? 2 : (o.translucent ? 1 : 0));
  gl::bind_texture(0, blurred);
  const auto draw = [&](const gl::Program& program, vec4 quad) {
    draw_on_plane(program, plane, quad, empty_);
  };
  // The handle first: the blade, where it is opaque, is drawn over its end.
  set_turn(plate_, o, Upright::kHandle);
  plate_.set("uDrawn", plain ? glm::vec2(-1) : glm::vec2(x + kOut, y + kOut));
  draw_on_plane(plate_, make_handle_plane(o, lift), {-9, -y - kHandleMm, 9, 4 - y}, empty_);
  set_turn(plate_, o, Upright::kBlade);
  plate_.set("uDrawn", glm::vec2(-1));
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
  const float lift = 0.5F * static_cast<float>(o.thickness_mm);
  draw_plate(scene, camera, blurred);
  box = gl::calc_union(box, calc_pixels(make_blade_plane(o, lift), {-x, -y, x, y}, camera));
  box = gl::calc_union(
      box, calc_pixels(make_handle_plane(o, lift), {-9, -y - kHandleMm, 9, 8 - y}, camera));
  if (hand) box = gl::calc_union(box, draw_hand(scene, camera, HandPart::kThumb));
  return box;
}

}  // namespace redress::draw
