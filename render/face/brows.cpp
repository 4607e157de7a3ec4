// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/face/hair.hpp"
#include "render/face/noise.hpp"

namespace redress::face {

using glm::mix;
using glm::vec2;
using glm::vec3;
using glm::vec4;

void add_strand(const Strand& s, HairMesh& mesh) {
  const auto first = static_cast<std::uint32_t>(mesh.vertices.size());
  for (int k = 0; k <= s.parts; ++k) {
    const float t = static_cast<float>(k) / static_cast<float>(s.parts);
    const vec3 p = mix(mix(s.a, s.b, t), mix(s.b, s.c, t), t);
    const vec3 along = glm::normalize(mix(s.b - s.a, s.c - s.b, t) + vec3(0, 0, 1e-5F));
    const float half = s.half_width * (1 - 0.85F * t * t);
    mesh.vertices.push_back({p, along, vec4(-1, half, t, s.tint)});
    mesh.vertices.push_back({p, along, vec4(1, half, t, s.tint)});
  }
  for (int k = 0; k < s.parts; ++k) {
    const std::uint32_t p = first + 2 * static_cast<std::uint32_t>(k);
    mesh.indices.insert(mesh.indices.end(), {p, p + 1, p + 2, p + 2, p + 1, p + 3});
  }
}

BrowLine::BrowLine(const scene::PatientAppearance& who, std::size_t side)
    : from_(who.brow_gap_mm),
      to_(who.interpupillary_mm * 0.5F + 23.5F * mix(who.face_scale, 1.0F, 0.3F)),
      start_(who.brow_start_mm + (side == 1 ? 0.5F : -0.5F) * who.brow_asymmetry_mm),
      arch_(who.brow_arch_mm),
      width_(who.brow_width_mm),
      traits_(make_traits(who)) {
  arch_ += traits_.brow_mm[side];
}

float BrowLine::y(float u) const {  // climbs to the outer third, then falls
  const float peak = traits_.brow_peak;
  const float rise = std::sin(std::min(u / peak, 1.0F) * 0.5F * kPi);
  const float fall = std::max(u - peak + 0.08F, 0.0F) / (1.08F - peak);
  return start_ + arch_ * (rise - traits_.brow_tail * std::pow(fall, 1.8F));
}

float BrowLine::half_width(float u) const {
  return 0.5F * width_ * mix(traits_.brow_fullness, traits_.brow_taper, ramp(0.30F, 1.0F, u)) *
         mix(0.72F, 1.0F, ramp(-0.02F, 0.14F, u));
}

float BrowLine::calc_density(float across_mm, float y_mm) const {
  const float u = (across_mm - from_) / (to_ - from_);
  if (u < -0.06F || u > 1.04F) return 0;
  const float on = std::clamp(u, 0.0F, 1.0F);
  const float v = (y_mm - y(on)) / half_width(on);
  return ramp(1.75F, 0.35F, std::abs(v)) * ramp(-0.05F, 0.14F, u) * ramp(1.02F, 0.80F, u);
}

HairMesh make_brow(const scene::PatientAppearance& who, const Lids& lids, std::size_t side) {
  const BrowLine brow(who, side);
  const LidLine rest = lids.calc_rest(side);
  const float sign = side == 1 ? 1.0F : -1.0F;
  HairMesh mesh;
  Chance chance(who.seed * 13 + static_cast<std::uint32_t>(side) + 3);
  const auto on_skin = [&](vec2 p, float height) {
    const float z = lids.skin_z(side, lids.half_ipd() - p.x, p.y, rest);
    return vec3(sign * p.x, p.y, z + height);
  };
  const int count = static_cast<int>(1250 * who.brow_density * (who.brow_width_mm / 4.6F));
  float clump_shift = 0;
  float clump_angle = 0;
  for (int k = 0; k < count; ++k) {
    float u = chance.even();
    const float v = 1.12F * chance.middle() + 0.30F * chance.middle();  // densest in the middle
    u = mix(u, u * u, 0.14F);
    const float keep =
        mix(0.26F, 1.0F, ramp(0.0F, 0.24F, u)) * mix(1.0F, 0.60F, ramp(0.75F, 1.0F, u));
    if (chance.even() > keep) continue;
    if (k % 4 == 0) {
      clump_shift = chance.middle();
      clump_angle = 0.13F * chance.middle();
    }
    if (v < -0.9F && chance.even() < 0.5F) continue;  // the lower edge is the cleaner one
    const float x = brow.across(u) + 0.5F * clump_shift +
                    2.4F * chance.middle() * ramp(0.14F, 0.0F, u) +
                    1.6F * chance.middle() * ramp(0.85F, 1.0F, u);
    const float y = brow.y(u) + v * brow.half_width(u);
    // Growth: up at the medial end, then along the arch; upper hairs lean down, lower hairs up.
    const float tangent = std::atan2(brow.y(u + 0.02F) - brow.y(u - 0.02F),
                                     brow.across(u + 0.02F) - brow.across(u - 0.02F));
    const float lean = mix(1.12F * brow.lean(), 0.16F, ramp(0.0F, 0.42F, u));
    float angle = tangent + lean - v * mix(0.10F, 0.36F, ramp(0.05F, 0.5F, u)) + clump_angle +
                  0.19F * chance.middle();
    if (u < 0.1F) angle += 0.25F * chance.middle();
    float length = who.brow_hair_mm * mix(0.84F, 0.72F, u) * (1 - 0.40F * ramp(0.12F, 0, u)) *
                   (0.52F + 0.50F * chance.even());
    if (v > 0.3F) length *= 0.8F;
    const float bend = -0.28F * ramp(0, 0.4F, u) * (v + 0.6F) + 0.10F * chance.middle();
    const vec2 p0(x, y);
    const vec2 p1 = p0 + vec2(std::cos(angle), std::sin(angle)) * length * 0.5F;
    const vec2 p2 = p1 + vec2(std::cos(angle + bend), std::sin(angle + bend)) * length * 0.5F;
    const float tint = chance.even() < who.grey_hair ? 2.0F : 0.5F + 0.9F * chance.even();
    const float half = (0.030F + 0.017F * chance.even()) * mix(0.85F, 1.12F, who.brow_ridge);
    add_strand({on_skin(p0, 0.02F), on_skin(p1, 0.75F + 0.3F * chance.even()),
                on_skin(p2, 0.30F + 0.5F * chance.even()), half, tint, 3},
               mesh);
  }
  return mesh;
}

float calc_scalp(const scene::PatientAppearance& who, float u, float y) {
  const float across = std::abs(u) / mix(who.face_scale, 1.0F, 0.6F);
  const float fy = y / who.face_scale;
  // The hairline: in from the temple over the forehead, a point before the ear.
  const float line =
      67.0F - 12.0F * ramp(4, 50, fy) + 7.0F * ramp(-4, -26, fy) + make_traits(who).hairline_mm;
  return who.scalp_hair * ramp(line - 2.5F, line + 5.0F, across) * ramp(-34, -18, fy);
}

HairMesh make_temple_hair(const scene::PatientAppearance& who, const HeadSurface& head) {
  HairMesh mesh;
  if (who.scalp_hair <= 0) return mesh;
  Chance chance(who.seed * 17 + 5);
  for (int k = 0; k < static_cast<int>(8600 * who.scalp_hair); ++k) {
    const float sign = k % 2 == 0 ? -1.0F : 1.0F;
    const float u = 48 + 62 * chance.even();
    const float y = -32 + 100 * chance.even();
    if (chance.even() > calc_scalp(who, u, y)) continue;
    const float edge = ramp(60, 76, u);  // lies flat where it begins, and is short there
    // Hair lies in locks: neighbours share a direction and a height, and each strays a little.
    const float lock =
        2 * calc_noise(u / 7 + 40 * sign + 80, y / 13 + 40, 0, who.seed * 17 + 6) - 1;
    const float stray = chance.middle();
    const float length = (12 + 12 * chance.even()) * mix(0.5F, 1.15F, edge);
    const float down =
        0.72F + 0.30F * lock + 0.07F * stray + 0.35F * ramp(20, -15, y) - 0.25F * ramp(30, 66, y);
    // It has thickness: from the front it is what stands beside the head that is seen of it. The
    // tip comes back to the head, or it would stand out as a bristle.
    const float depth = chance.even();
    const float full = ramp(-30, 20, y) * edge * (0.6F + (3.4F + 0.9F * lock) * depth);
    const auto on_skin = [&](float du, float dy, float lift) {
      const glm::vec3 p = head.at(sign * (u + du), std::clamp(y + dy, -60.0F, 68.0F));
      return p + vec3(sign * lift, 0, 0.30F * lift);
    };
    const float shade = 0.72F + 0.28F * depth;  // the deep ones get less light
    const float tint = chance.even() < who.grey_hair
                           ? 2.0F
                           : shade * (0.72F + 0.30F * lock + 0.35F * chance.even());
    const float bend = 0.34F + 0.10F * stray;
    add_strand(
        {on_skin(0, 0, 0.1F), on_skin(bend * length, -0.42F * down * length, 0.8F + 1.5F * full),
         on_skin(0.62F * length, -down * length, 0.3F + 0.35F * full + 0.4F * depth), 0.10F, tint,
         4},
        mesh);
  }
  return mesh;
}

}  // namespace redress::face
