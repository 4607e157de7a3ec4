// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/face/camera.hpp"

#include <glm/gtc/matrix_transform.hpp>

namespace redress::face {
namespace {

using glm::mat3;
using glm::mat4;
using glm::vec2;
using glm::vec3;
using glm::vec4;

mat3 make_turn(float radians, vec3 axis) { return mat3(glm::rotate(mat4(1.0F), radians, axis)); }

}  // namespace

vec3 to_picture(scene::Vec3 v) {
  return {-static_cast<float>(v.x), static_cast<float>(v.y), -static_cast<float>(v.z)};
}

vec3 key_lamp() { return glm::normalize(vec3(-0.46F, 0.60F, 0.74F)); }
vec3 fill_lamp() { return glm::normalize(vec3(0.85F, 0.05F, 0.60F)); }

mat3 calc_head_rotation(scene::HeadPose pose) {
  // In the picture's frame the right of the patient is -x: a turn to the right is negative about y,
  // a roll to the right shoulder positive about z, chin up negative about x.
  const auto rad = [](double d) { return glm::radians(static_cast<float>(d)); };
  return make_turn(-rad(pose.turn_deg), {0, 1, 0}) * make_turn(-rad(pose.chin_deg), {1, 0, 0}) *
         make_turn(rad(pose.roll_deg), {0, 0, 1});
}

vec2 Camera::to_pixels(vec3 in_head) const {
  const vec4 q = head_to_clip * vec4(in_head, 1.0F);
  return (vec2(q) / q.w * 0.5F + 0.5F) *
         vec2(static_cast<float>(width), static_cast<float>(height));
}

Camera make_camera(const scene::Scene& scene, int width, int height) {
  Camera c;
  c.width = width;
  c.height = height;
  c.mm_per_pixel = static_cast<float>(1.0 / scene.view.pixels_per_mm);
  c.eye_in_room = to_picture(scene.examiner_mm);
  c.head_to_room = calc_head_rotation(scene.head);
  c.eye_in_head = glm::transpose(c.head_to_room) * c.eye_in_room;
  const float distance = std::max(c.eye_in_room.z - kEntrancePupil, 120.0F);
  // As far as instruments let it: the depths behind are then told apart in few bits.
  const float near = std::min(200.0F, 0.4F * distance);
  const vec2 half =
      0.5F * c.mm_per_pixel * vec2(static_cast<float>(width), static_cast<float>(height));
  const vec2 centre(-static_cast<float>(scene.view.centre_x_mm),
                    static_cast<float>(scene.view.centre_y_mm));
  const vec2 low = (centre - half - vec2(c.eye_in_room)) * (near / distance);
  const vec2 high = (centre + half - vec2(c.eye_in_room)) * (near / distance);
  c.room_to_clip = glm::frustum(low.x, high.x, low.y, high.y, near, distance + 400.0F) *
                   glm::translate(mat4(1.0F), -c.eye_in_room);
  c.head_to_clip = c.room_to_clip * mat4(c.head_to_room);
  return c;
}

mat3 calc_eye_rotation(const scene::EyePose& pose, std::size_t side, float kappa_deg) {
  const double h = glm::radians(pose.horizontal_deg);
  const double v = glm::radians(pose.vertical_deg);
  const vec3 sight =
      to_picture({std::sin(h) * std::cos(v), std::sin(v), -std::cos(h) * std::cos(v)});
  // Listing: the shortest way from straight ahead.
  mat3 listing(1.0F);
  const vec3 axis = glm::cross(vec3(0, 0, 1), sight);
  const float sine = glm::length(axis);
  if (sine > 1e-7F) listing = make_turn(std::atan2(sine, sight.z), axis / sine);
  const mat3 torsion = make_turn(glm::radians(static_cast<float>(pose.torsion_deg)), sight);
  const float temporal = side == 1 ? 1.0F : -1.0F;
  return torsion * listing * make_turn(temporal * glm::radians(kappa_deg), {0, 1, 0});
}

vec3 calc_globe_centre(const scene::PatientAppearance& who, std::size_t side,
                       const scene::EyePose& pose) {
  const float temporal = side == 1 ? 1.0F : -1.0F;
  const float nasal = kEntrancePupil * std::sin(glm::radians(who.kappa_deg));
  const auto aside = [&](const scene::EyePose& p) {
    return kBehindGlobe * calc_eye_rotation(p, side, who.kappa_deg)[2].x;
  };
  return {temporal * (0.5F * who.interpupillary_mm - nasal) + aside(pose) - aside({}), 0,
          who.prominence_mm};
}

}  // namespace redress::face
