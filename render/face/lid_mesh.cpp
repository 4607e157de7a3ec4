// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The moving skin round one eye as rings round the opening: rings 0 to kLipRings - 1 roll over the
// margin back to the globe, the next ones run to the fold, the last ones to the rim of the patch.
#include "render/face/lids.hpp"
#include "render/face/noise.hpp"

namespace redress::face {
namespace {

using glm::mix;
using glm::vec2;
using glm::vec3;

constexpr int kLip = 3;    // last ring on the margin
constexpr int kFold = 13;  // the ring on the fold

}  // namespace

struct Lids::Spoke {
  vec2 edge;  // (n, y) on the margin
  vec2 fold;
  vec2 rim;

  /// Where ring r lies along this spoke.
  [[nodiscard]] vec2 place(int r) const {
    if (r <= kLip) return edge;
    if (r <= kFold) {
      float t = static_cast<float>(r - kLip) / static_cast<float>(kFold - kLip);
      t = mix(t, t * t * (3 - 2 * t), 0.6F);
      return mix(edge, fold, t);
    }
    const float t = static_cast<float>(r - kFold) / static_cast<float>(kRings - 1 - kFold);
    return mix(fold, rim, mix(t * t, t, 0.35F));
  }
};

Lids::Spoke Lids::calc_spoke(std::size_t side, int k, LidLine line) const {
  const float angle = 2 * kPi * static_cast<float>(k) / kSpokes;
  const bool top = k <= kSpokes / 2;
  const float c = std::cos(angle);
  const float n = 0.5F * (nasal_ + temporal_) + 0.5F * (nasal_ - temporal_) * c;
  Spoke spoke;
  spoke.edge = {n, top ? upper(n, line) : lower(n, line)};
  spoke.rim = vec2(0, 1.5F) + vec2(20.6F * c, 15.3F * std::sin(angle));
  const float at_fold = n + 2.6F * c;
  spoke.fold = {at_fold, top ? crease(side, at_fold, line) : lower(n, line) - 5.5F};
  // Fan smoothly round the canthi.
  spoke.fold = mix(spoke.fold, mix(spoke.edge, spoke.rim, 0.33F), ramp(0.80F, 1.0F, std::abs(c)));
  return spoke;
}

/// The skin of a lid that is down lies in fine furrows along it, which the fold hides while it is
/// open. They go with the margin, wander, and come and go.
glm::vec2 Lids::calc_creases(std::size_t side, float n, float above_mm, LidLine line) const {
  constexpr float kApartMm = 1.25F;
  constexpr float kReach = 11;  // mm above the margin
  const float down = ramp(2.6F, -1.0F, line.top);
  if (down <= 0 || above_mm <= 0 || above_mm >= kReach) return {};
  const std::uint32_t seed = who_.seed * 37 + static_cast<std::uint32_t>(side);
  const float wander = 2 * calc_noise(n / 7 + 20, above_mm / 4 + 20, 0, seed) - 1;
  const float there = calc_noise(n / 4.5F + 50, above_mm / 1.6F + 50, 0, seed + 1);
  const float grown = ramp(0.80F, 1.0F, who_.face_scale);  // a child's lids are smooth
  const float steep =
      (mix(0.13F, 0.33F, grown) + 0.45F * who_.wrinkles) * ramp(0.30F, 0.70F, there);
  const float phase = 2 * kPi / kApartMm * (above_mm + 0.55F * wander);
  return {phase, down * steep * ramp(0.6F, 2.2F, above_mm) * ramp(kReach, 0.6F * kReach, above_mm) *
                     crease_strength(n)};
}

SkinMesh Lids::make_patch(std::size_t side, LidLine line) const {
  const LidLine rest = calc_rest(side);
  const float sign = side == 1 ? -1.0F : 1.0F;  // x grows with n in the right eye only
  const float open = std::clamp((line.top + line.bottom) * 0.5F, 0.0F, 1.0F);
  const float hang =
      ramp(4.0F, 0.5F, line.top + line.bottom) * who_.lash_density * ramp(3.0F, 7.0F, who_.lash_mm);
  const float folded = mix(1.0F, 0.12F, ramp(3.0F, -1.5F, line.top));
  SkinMesh mesh;
  mesh.vertices.reserve(static_cast<std::size_t>(kSpokes * kRings));
  for (int k = 0; k < kSpokes; ++k) {
    const Spoke now = calc_spoke(side, k, line);
    const Spoke home = calc_spoke(side, k, rest);
    const bool top = k <= kSpokes / 2;
    const float c = std::cos(2 * kPi * static_cast<float>(k) / kSpokes);
    const vec2 inward = glm::normalize(vec2(-0.55F * c, top ? -1.0F : 1.0F));
    const float corner = ramp(1.0F, 0.90F, std::abs(c));
    const float thick = mix(0.45F, 1.0F, corner);
    const float corner_free = ramp(0.98F, 0.75F, std::abs(c));
    for (int r = 0; r < kRings; ++r) {
      vec2 q = now.place(r);
      vec2 h = home.place(r);
      float wet = 0;
      float sink = 0;
      if (r <= kLip) {  // round the edge of the lid and back to the globe
        const float t = static_cast<float>(kLip - r) / kLip;
        sink = (top ? 1.9F : 0.8F) * thick *
               (t < 0.25F ? t * t * 3.0F : mix(0.1875F, 1.0F, (t - 0.25F) / 0.75F));
        const float lip = (top ? kLipUpper : kLipLower) * std::sqrt(t) * thick * open;
        q += inward * lip;
        h += inward * lip;
        wet = ramp(0.12F, 0.6F, t) * mix(0.5F, 1.0F, corner);
      }
      const vec2 on = r <= kLip ? now.edge : q;
      const float z = skin_z(side, on.x, on.y, line) - sink;
      constexpr float kBlur = 1.5F;
      const float a = skin_z(side, q.x - kBlur, q.y, line);
      const float b = skin_z(side, q.x + kBlur, q.y, line);
      const float d = skin_z(side, q.x, q.y - kBlur, line);
      const float e = skin_z(side, q.x, q.y + kBlur, line);
      SkinVertex v{};
      v.position = {x(side, q.x), q.y, z};
      v.rest = {x(side, h.x), h.y};
      v.soft = glm::normalize(vec3(-sign * (b - a) / (2 * kBlur), -(e - d) / (2 * kBlur), 1.0F));
      float cavity = std::clamp(0.25F * (a + b + d + e) - (z + sink), -1.0F, 1.0F);
      cavity += (top ? 0.55F : 0.10F) * sink;
      if (!top && r > kLip) {  // upper lashes that hang over the lower lid keep light from it
        const float below = now.edge.y - q.y;
        cavity += 0.42F * hang * corner_free * bump(below - 1.6F, 2.6F);
      }
      if (top && r > kLip) {  // shade of the lashes at their roots
        cavity += 0.80F * std::exp(-glm::length(q - now.edge) / 0.8F) * corner;
        const float to_crease = q.y - crease(side, q.x, line);  // no light gets down into it
        cavity += 0.55F * folded * who_.crease_depth * crease_strength(q.x) *
                  bump(to_crease, to_crease > 0 ? 0.9F : 0.45F);
      }
      v.wet_cavity = {wet, cavity};
      if (top && r > kLip) v.creases = calc_creases(side, q.x, q.y - now.edge.y, line);
      mesh.vertices.push_back(v);
    }
  }
  const auto index = [](int k, int r) {
    return static_cast<std::size_t>(((k + kSpokes) % kSpokes) * kRings +
                                    std::clamp(r, 0, kRings - 1));
  };
  for (int k = 0; k < kSpokes; ++k) {
    for (int r = 0; r < kRings; ++r) {  // normals from the neighbours along and across
      SkinVertex& v = mesh.vertices[index(k, r)];
      const vec3 along =
          mesh.vertices[index(k + 1, r)].position - mesh.vertices[index(k - 1, r)].position;
      const vec3 across =
          mesh.vertices[index(k, r + 1)].position - mesh.vertices[index(k, r - 1)].position;
      vec3 normal = glm::cross(along, across);
      const float length = glm::length(normal);
      normal = length > 1e-7F ? normal / length : v.soft;
      if (normal.z < -0.2F || (r > kLip + 1 && normal.z < 0)) normal = -normal;
      const float to_rim = std::clamp(static_cast<float>(r - kRings + 5) / 4.0F, 0.0F, 1.0F);
      v.normal = glm::normalize(mix(normal, v.soft, to_rim));
    }
    for (int r = 0; r + 1 < kRings; ++r) {
      const auto a = static_cast<std::uint32_t>(index(k, r));
      const auto b = static_cast<std::uint32_t>(index(k + 1, r));
      mesh.indices.insert(mesh.indices.end(), {a, b, a + 1, a + 1, b, b + 1});
    }
  }
  return mesh;
}

}  // namespace redress::face
