// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/draw/spectacle_painter.hpp"

#include "render/face/face_layer.hpp"

namespace redress::draw {
namespace {

using glm::vec2;
using glm::vec3;
using glm::vec4;

constexpr float kFacePlane = 14.0F;  // where shadows fall, mm before the centres of rotation
constexpr float kTrialRadius = 17.0F;
constexpr float kTrialRim = 1.9F;
constexpr double kChildMm = 57.0;  // below: a child's frame

/// Sizes follow the eyes that a frame is made for: 49 x 35 mm, 18 mm between, for 62 mm (common
/// practice, no source).
struct Frame {
  float centre;      // of a lens from the midline
  float half_width;  // of a lens
  float half_height;
  float low = 3.0F;  // middle of the lenses below the eyes
  float rim = 2.3F;
  vec3 colour{0.021F, 0.014F, 0.011F};
};

Frame make_frame(const scene::Spectacles& s) {
  const float half = 0.5F * static_cast<float>(s.frame_mm);
  Frame f{1.08F * half, 0.79F * half, 0.565F * half};
  if (s.frame_mm < kChildMm) {
    f.colour = {0.030F, 0.075F, 0.16F};
    f.rim = 2.5F;
  }
  return f;
}

vec4 make_shape(const Frame& f) {
  return {f.half_width, f.half_height, 0.66F * f.half_height, f.rim};
}

float find_sign(std::size_t side) { return side == 1 ? 1.0F : -1.0F; }  // picture x of an eye

Plane make_plane(double z_mm) {
  Plane p;
  p.origin = {0, 0, -static_cast<float>(z_mm)};
  return p;
}

vec4 make_quad(const Frame& f) {
  const float margin = f.rim + 1;
  return {-f.half_width - margin - 4, -f.half_height - margin, f.half_width + margin + 4,
          f.half_height + margin};
}

Plane make_lens_plane(const scene::Scene& scene, const Frame& f, std::size_t side) {
  Plane p = make_plane(SpectaclePainter::find_plane_mm(scene));
  p.origin += vec3(find_sign(side) * f.centre, -f.low, 0);
  return p;
}

Plane make_trial_plane(const scene::Scene& scene, std::size_t side) {
  Plane p = make_plane(SpectaclePainter::find_trial_plane_mm(scene));
  p.origin.x = find_sign(side) * 0.5F * static_cast<float>(scene.spectacles.frame_mm);
  return p;
}
constexpr vec4 kTrialQuad{-kTrialRadius - 3, -kTrialRadius - 3, kTrialRadius + 3, kTrialRadius + 3};

/// What a lens shows lies beside it: the eye behind a strong one is displaced by some millimetres.
gl::PixelBox widen(gl::PixelBox box, const face::Camera& camera) {
  const int reach = static_cast<int>(8.0F / camera.mm_per_pixel);
  return gl::calc_overlap(
      {box.x - reach, box.y - reach, box.width + 2 * reach, box.height + 2 * reach},
      {0, 0, camera.width, camera.height});
}

}  // namespace

SpectaclePainter::SpectaclePainter()
    : frame_("instrument.vert", "spectacles.frag"),
      glass_("instrument.vert", "lens.frag"),
      empty_(gl::VertexArray::make()) {}

double SpectaclePainter::find_plane_mm(const scene::Scene& scene) {
  const std::array<scene::Lens, 2>& lenses = scene.spectacles.lenses;
  return -(static_cast<double>(face::kCornealApex) +
           0.5 * (lenses[0].vertex_mm + lenses[1].vertex_mm));
}

double SpectaclePainter::find_trial_plane_mm(const scene::Scene& scene) {
  return find_plane_mm(scene) - (scene.spectacles.worn ? 1.0 : 0.0);
}

void SpectaclePainter::set_glass(const scene::Scene& scene, const face::Camera& camera,
                                 const Behind& behind) const {
  glass_.use();
  face::set_light(glass_, camera, scene.light.room);
  glass_.set("uBehind", 0);
  glass_.set("uPixels", vec2(camera.width, camera.height));
  glass_.set("uPixel", camera.mm_per_pixel);
  glass_.set("uEyePlane", face::kEntrancePupil);
  // The window stands behind the examiner, a little higher than the head and to the lamp's side.
  const vec3 to = glm::normalize(vec3(-0.17F, 0.085F, 0.98F));
  const vec3 across = glm::normalize(glm::cross(vec3(0, 1, 0), to));
  glass_.set("uWindow",
             glm::transpose(camera.head_to_room) * glm::mat3(across, glm::cross(to, across), to));
  glass_.set("uStored", behind.as_stored ? 1.0F : 0.0F);
  gl::bind_texture(0, behind.texture);
}

void SpectaclePainter::set_frame(const scene::Scene& scene, const face::Camera& camera) const {
  frame_.use();
  face::set_light(frame_, camera, scene.light.room);
  frame_.set("uPixel", camera.mm_per_pixel);
}

gl::PixelBox SpectaclePainter::draw_shadow(const scene::Scene& scene, const face::Camera& camera) {
  if (!scene.spectacles.worn) return {};
  const Frame f = make_frame(scene.spectacles);
  set_frame(scene, camera);
  const float gap = -static_cast<float>(find_plane_mm(scene)) - kFacePlane;
  const vec3 key = glm::transpose(camera.head_to_room) * face::key_lamp();
  const vec3 lean = key * (gap / key.z);
  const float soft = 1.0F + 0.28F * gap;
  frame_.set("uPart", 0);
  frame_.set("uShape", make_shape(f));
  frame_.set("uShift", vec3(lean.x, lean.y, soft));
  glBlendFunc(GL_ZERO, GL_SRC_COLOR);
  gl::PixelBox box;
  for (const std::size_t side : {0U, 1U}) {
    Plane plane = make_lens_plane(scene, f, side);
    plane.origin.z = kFacePlane;
    const vec4 quad =
        make_quad(f) + vec4(-lean.x, -lean.y, -lean.x, -lean.y) + vec4(-soft, -soft, soft, soft);
    draw_on_plane(frame_, plane, quad, empty_);
    box = gl::calc_union(box, calc_pixels(plane, quad, camera));
  }
  glBlendFunc(GL_ONE, GL_ONE_MINUS_SRC_ALPHA);
  return box;
}

gl::PixelBox SpectaclePainter::calc_box(const scene::Scene& scene, const face::Camera& camera) {
  const Frame f = make_frame(scene.spectacles);
  gl::PixelBox box;
  for (const std::size_t side : {0U, 1U}) {
    const Plane plane = make_lens_plane(scene, f, side);
    box = gl::calc_union(box, calc_pixels(plane, make_quad(f), camera));
  }
  return widen(box, camera);
}

gl::PixelBox SpectaclePainter::calc_trial_box(const scene::Scene& scene,
                                              const face::Camera& camera) {
  gl::PixelBox box;
  for (const std::size_t side : {0U, 1U}) {
    if (scene.trial_lens_d[side] == 0.0) continue;
    box = gl::calc_union(box, calc_pixels(make_trial_plane(scene, side), kTrialQuad, camera));
  }
  return widen(box, camera);
}

/// `eye`: straight ahead of the eye's centre of rotation, from the middle of the rim. Right in the
/// picture is the patient's left: what is odd in x turns its sign.
void SpectaclePainter::draw_lens(const scene::Lens& lens, const Plane& plane, vec2 eye,
                                 vec4 quad) const {
  const auto number = [](double v) { return static_cast<float>(v); };
  glass_.set("uEye", eye);
  glass_.set("uPower", vec4(number(lens.power_xx_d), -number(lens.power_xy_d),
                            number(lens.power_yy_d), number(lens.add_d)) /
                           1000.0F);
  glass_.set("uCentre", vec4(-number(lens.centre_x_mm), number(lens.centre_y_mm),
                             -number(lens.prism_x), number(lens.prism_y)));
  glass_.set("uNear", vec4(static_cast<float>(lens.design), -number(lens.near_x_mm),
                           number(lens.near_top_mm), number(lens.corridor_mm)));
  draw_on_plane(glass_, plane, quad, empty_);
}

/// Round the rectangle that lies wholly within the lens.
void SpectaclePainter::draw_rim(const Plane& plane, vec4 quad, vec4 shape) const {
  frame_.set("uPart", 1);
  frame_.set("uShape", shape);
  const vec2 hole(0.88F * shape.x - 0.3F * shape.z, shape.y - 0.3F * shape.z);
  draw_on_plane(frame_, plane, {quad.x, quad.y, quad.z, -hole.y}, empty_);
  draw_on_plane(frame_, plane, {quad.x, hole.y, quad.z, quad.w}, empty_);
  draw_on_plane(frame_, plane, {quad.x, -hole.y, -hole.x, hole.y}, empty_);
  draw_on_plane(frame_, plane, {hole.x, -hole.y, quad.z, hole.y}, empty_);
}

/// Seen only from outside.
void SpectaclePainter::draw_temples(const scene::Scene& scene, const face::Camera& camera) const {
  const Frame f = make_frame(scene.spectacles);
  frame_.set("uPart", 3);
  frame_.set("uShape", vec4(60, 1.8F, 1.5F, f.rim));
  frame_.set("uOuter", vec4(1, 1, 0, 1));
  for (const std::size_t side : {0U, 1U}) {
    const float sign = find_sign(side);
    Plane plane = make_lens_plane(scene, f, side);
    plane.origin += vec3(sign * (f.half_width + f.rim + 3.2F), 0.56F * f.half_height - 1.8F, -1);
    plane.across = glm::normalize(vec3(sign * 0.16F, 0, -1));
    const vec3 outward = glm::cross(plane.upward, plane.across) * -sign;
    if (glm::dot(outward, camera.eye_in_head - plane.origin) < 0) continue;
    draw_on_plane(frame_, plane, {0, -1, 120, 5}, empty_);
  }
}

/// They lie on the flanks of the nose, nearer the face than the rims, and are seen aslant.
void SpectaclePainter::draw_pads(double plane_mm, glm::vec2 beside_bridge) const {
  frame_.set("uPart", 4);
  frame_.set("uShape", vec4(3.4F, 6.2F, 0, 0));  // common practice, no source: 7 x 13 mm
  for (const std::size_t side : {0U, 1U}) {
    const float sign = find_sign(side);
    Plane plane = make_plane(plane_mm);
    plane.origin += vec3(sign * beside_bridge.x, beside_bridge.y, -4.5F);
    plane.across = glm::normalize(vec3(sign * 0.62F, 0, -0.78F));
    plane.upward = glm::normalize(vec3(-sign * 0.12F, 1, 0));
    draw_on_plane(frame_, plane, {-4, -7, 7, 7}, empty_);
  }
}

void SpectaclePainter::draw(const scene::Scene& scene, const face::Camera& camera,
                            const Behind& behind) {
  const Frame f = make_frame(scene.spectacles);
  set_glass(scene, camera, behind);
  glass_.set("uShape", make_shape(f));
  for (const std::size_t side : {0U, 1U}) {
    const Plane plane = make_lens_plane(scene, f, side);
    const float eye_x = find_sign(side) * 0.5F * static_cast<float>(scene.spectacles.frame_mm);
    draw_lens(scene.spectacles.lenses[side], plane, {eye_x - plane.origin.x, -plane.origin.y},
              {-1.13F * f.half_width, -f.half_height - 1, 1.13F * f.half_width, f.half_height + 1});
  }
  set_frame(scene, camera);
  frame_.set("uRimColour", f.colour);
  draw_temples(scene, camera);
  const float between = f.centre - f.half_width - f.rim;
  draw_pads(find_plane_mm(scene), {between - 0.2F, -f.low - 4.5F});
  Plane bridge = make_plane(find_plane_mm(scene));
  bridge.origin.y = 0.30F * f.half_height - f.low;
  frame_.set("uPart", 2);
  frame_.set("uShape", make_shape(f));
  frame_.set("uOuter", vec4(1, between, 0, 1));
  draw_on_plane(frame_, bridge, {-between - 2, -6, between + 2, 6}, empty_);
  for (const std::size_t side : {0U, 1U}) {
    frame_.set("uOuter", vec4(find_sign(side), between, 0, 1));
    draw_rim(make_lens_plane(scene, f, side), make_quad(f), make_shape(f));
  }
}

void SpectaclePainter::draw_trial(const scene::Scene& scene, const face::Camera& camera,
                                  const Behind& behind) {
  const vec4 shape(kTrialRadius, kTrialRadius, kTrialRadius, kTrialRim);
  set_glass(scene, camera, behind);
  glass_.set("uShape", shape);
  for (const std::size_t side : {0U, 1U}) {
    if (scene.trial_lens_d[side] == 0.0) continue;
    scene::Lens lens;
    lens.power_xx_d = lens.power_yy_d = scene.trial_lens_d[side];
    draw_lens(lens, make_trial_plane(scene, side), {0, 0}, kTrialQuad);
  }
  set_frame(scene, camera);
  frame_.set("uRimColour", vec3(0.30F, 0.31F, 0.32F));
  frame_.set("uOuter", vec4(1, 0, 1, 0));
  for (const std::size_t side : {0U, 1U}) {
    if (scene.trial_lens_d[side] == 0.0) continue;
    draw_rim(make_trial_plane(scene, side), kTrialQuad, shape);
  }
}

}  // namespace redress::draw
