// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The nose as a ridge, a ball at the tip, two wings that are balls of their own, and nostrils. A
// wing meets cheek and flank in a furrow: without it a nose is a lump.
#include "render/face/relief.hpp"

namespace redress::face {
namespace {

using glm::mix;

constexpr float kWingX = 12.4F;
constexpr float kWingY = -38.6F;

/// A ball seen from the front: its dome, and a falling skirt outside. Not quite as steep at its
/// edge as a sphere, which no mesh would follow.
float calc_ball(float dx, float dy, float depth, float height) {
  const float q = 1 - dx * dx - dy * dy;
  const float rise = std::pow(std::abs(q), 0.72F);
  return q > 0 ? depth + height * rise : depth - height * rise * 1.1F;
}

}  // namespace

Nose::Nose(const scene::PatientAppearance& who)
    : bridge_((who.nose_bridge - 0.5F) * 7.0F),
      wide_(0.82F + 0.36F * who.nose_width),
      slim_(mix(1.25F, 0.92F, who.nose_bridge)),
      short_(1),
      traits_(make_traits(who)) {
  short_ = mix(1.0F, 1.16F, traits_.childlike);
}

/// Distance from the ridge, which need not end on the midline.
float Nose::calc_across(float x, float y) const {
  return std::abs(x - traits_.nose_lean_mm * ramp(2, -34, y) * bump(x, 30));
}

float Nose::calc_depth(float x, float place, float under) const {
  const float y = place * short_;
  const float across = calc_across(x, y);
  // The ridge line from glabella to tip, then under the tip back to the lip.
  float ridge = mix(24.6F + std::min(bridge_, 0.0F) * 1.2F, 20.8F + bridge_, ramp(19, 5, y));
  ridge += (mix(22.0F, 18.5F, traits_.childlike) - bridge_ * 0.55F) *
           std::pow(std::clamp((5.0F - y) / 42.0F, 0.0F, 1.0F), 1.25F);
  ridge += (0.17F * bridge_ + 0.24F + traits_.hump_mm) * bump(y + 12, 9);
  ridge -= 17.0F * ramp(-39.0F - traits_.tip_drop_mm, -49.0F - traits_.tip_drop_mm, y);
  const float grow = ramp(4, -28, y);
  const float core = mix(6.3F, 9.4F, grow) * mix(1.0F, wide_, ramp(0, -20, y)) * slim_;
  const float foot = mix(12.5F, 15.0F, grow) * mix(1.0F, wide_, grow);
  const float section = 0.55F * bump(across, core) + 0.45F * bump(across, foot);
  float z = under + std::max(ridge - under, 0.0F) * section;
  const float tip = 9.4F * mix(1.0F, wide_, 0.8F) * traits_.tip_width;
  const float tip_y = y + 36.5F + traits_.tip_drop_mm;
  z = smooth_max(z,
                 calc_ball(across / tip, tip_y / 8.8F, mix(31.5F, 29.0F, traits_.childlike),
                           10.0F - 0.2F * bridge_),
                 5.5F);
  // A wing: higher than wide, its upper end leaning to the tip. It runs over into the tip and is
  // set off from the cheek.
  const float wx = across - kWingX * wide_ + 0.16F * (y - kWingY);
  const float wy = y - kWingY;
  const float flare = 1 + 0.09F * traits_.wing_flare;
  const float half = 5.9F * mix(1.0F, wide_, 0.6F) * flare;
  const float wing = calc_ball(wx / half, wy / 7.8F, 19.6F, 6.2F);
  z = smooth_max(z, wing, mix(8.5F, 3.0F, ramp(-2.5F, 4.5F, wx + 0.35F * (wy < 0 ? 0 : -wy))));
  z -= 0.25F * bump(across - 7.9F * wide_, 2.2F) * bump(y + 39.0F, 4.5F);  // beside the tip
  z -= 3.6F * calc_nostril(x, y);
  return z;
}

float Nose::calc_nostril(float x, float place) const {
  const float y = place * short_;
  const float across = calc_across(x, y);
  const float dx = across - 7.2F * wide_;
  const float dy = y + 44.6F + 0.5F * traits_.tip_drop_mm - 0.26F * dx + 0.05F * dx * dx;
  const float half = dy > 0 ? 1.5F : 2.1F;
  const float q = dx * dx / (14.5F * wide_) + dy * dy / (half * half);
  if (q > 3) return 0;
  return std::exp(-q * q);
}

}  // namespace redress::face
