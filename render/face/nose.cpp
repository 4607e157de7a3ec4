// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The nose as the sum of a ridge, a ball at the tip, two wings with their grooves, and nostrils.
#include "render/face/relief.hpp"

namespace redress::face {
namespace {

using glm::mix;

float calc_width(const scene::PatientAppearance& who) { return 0.82F + 0.36F * who.nose_width; }

/// A ball seen from the front: its dome, and a falling skirt outside.
float calc_ball(float dx, float dy, float depth, float height) {
  const float q = 1 - dx * dx - dy * dy;
  return q > 0 ? depth + height * std::sqrt(q) : depth - height * std::sqrt(-q) * 1.1F;
}

}  // namespace

float calc_nose(const scene::PatientAppearance& who, float across, float y, float under) {
  const float bridge = (who.nose_bridge - 0.5F) * 7.0F;
  const float wide = calc_width(who);
  // The ridge line from glabella to tip, then under the tip back to the lip.
  float ridge = mix(24.6F + std::min(bridge, 0.0F) * 1.2F, 20.8F + bridge, ramp(19, 5, y));
  ridge += (22.0F - bridge * 0.55F) * std::pow(std::clamp((5.0F - y) / 42.0F, 0.0F, 1.0F), 1.25F);
  ridge += 1.2F * (who.nose_bridge - 0.3F) * bump(y + 14, 9);
  ridge -= 15.0F * ramp(-38.0F, -50.0F, y);
  const float grow = ramp(4, -28, y);
  const float core = mix(6.3F, 10.0F, grow) * mix(1.0F, wide, ramp(0, -20, y)) *
                     mix(1.25F, 0.92F, who.nose_bridge);
  const float foot = mix(12.5F, 19.0F, grow) * mix(1.0F, wide, grow);
  const float section = 0.55F * bump(across, core) + 0.45F * bump(across, foot);
  float z = under + std::max(ridge - under, 0.0F) * section;
  z = smooth_max(
      z, calc_ball(across / (9.8F * wide), (y + 36.5F) / 9.0F, 31, 10.0F - 0.2F * bridge), 4.0F);
  // Wings, with the groove that curls round behind each.
  const float wx = across - 12.2F * wide;
  const float wy = y + 38.0F;
  const float r = std::sqrt(wx * wx / (5.8F * 5.8F) + wy * wy / (7.0F * 7.0F));
  z += 5.4F * std::exp(-r * r * 0.85F);
  const float outer = ramp(-0.5F, 0.7F, (wx + wy * 0.25F) / 6.0F) * ramp(9.0F, 1.0F, wy);
  z -= 0.85F * bump(r - 1.50F, 0.38F) * outer * ramp(-49, -42, y);
  // Between tip and wing, and the hollow of the nostril.
  z -= 0.7F * bump(across - 7.4F * wide, 2.4F) * bump(y + 40.5F, 4.5F);
  z -= 3.2F * calc_nostril(who, across, y);
  return z;
}

float calc_nostril(const scene::PatientAppearance& who, float across, float y) {
  const float wide = calc_width(who);
  const float dx = across - 7.0F * wide;
  const float dy = y + 45.2F - 0.22F * dx;
  return std::exp(-std::pow(dx * dx / (4.1F * 4.1F) + dy * dy / (1.9F * 1.9F), 2.0F));
}

}  // namespace redress::face
