// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/face/head_mesh.hpp"

namespace redress::face {
namespace {

using glm::mix;
using glm::vec2;
using glm::vec3;

constexpr float kSideReach = 36;   // of the rounding, along the skin
constexpr float kSideDepth = -52;  // where the side of the head runs straight back

/// Half width of the head against its widest, by height in adult scale. A child's is widest above
/// the ears and has no cheekbones yet, but cheeks.
float calc_profile(float y, float childlike) {
  // Temple, cheekbone, then in to the jaw.
  const float bone = mix(1.0F, 0.35F, childlike);
  float w = 0.985F + 0.03F * bone * bump(y + 14, 14) - 0.035F * bone * bump(y - 16, 14);
  w += childlike * (0.035F * bump(y - 36, 26) + 0.03F * bump(y + 34, 16));
  w -= mix(0.10F, 0.06F, childlike) * ramp(20, 66, y);
  w -= mix(0.16F, 0.19F, childlike) * ramp(-24, -66, y);
  return w;
}

/// Positions along one half, denser near the eyes and densest at the nose, which ends at `nose_to`.
std::vector<float> make_steps(float from, float to, float fine, float fine_from, float fine_to,
                              float nose_from, float nose_to) {
  std::vector<float> out;
  for (float p = from; p < to - 0.4F * fine;) {
    out.push_back(p);
    const bool nose = p >= nose_from && p < nose_to;
    p += nose ? 0.7F * fine : p > fine_from && p < fine_to ? fine : 2.0F * fine;
  }
  out.push_back(to);
  return out;
}

}  // namespace

HeadSurface::HeadSurface(const scene::PatientAppearance& who, const Relief& relief,
                         const Lids& lids)
    : relief_(&relief),
      lids_(&lids),
      frontal_(lids.half_ipd() + 21.5F),
      widest_(
          std::max(frontal_ + 11.0F, lids.half_ipd() + 38.5F * mix(who.face_scale, 1.0F, 0.4F))),
      scale_(who.face_scale),
      temple_(make_traits(who).temple),
      breadth_(make_traits(who).breadth),
      childlike_(make_traits(who).childlike),
      rest_{lids.calc_rest(0), lids.calc_rest(1)} {}

float HeadSurface::face_z(float x, float y) const {
  const std::size_t side = x > 0 ? 1 : 0;
  const float n = lids_->half_ipd() - std::abs(x);
  if (Lids::calc_ellipse(n, y) < 1.6F) return lids_->skin_z(side, n, y, rest_[side]);
  return relief_->z(x, y);
}

vec3 HeadSurface::at(float u, float y) const {
  const float across = std::abs(u);
  const float sign = u < 0 ? -1.0F : 1.0F;
  if (across <= frontal_) return {u, y, face_z(u, y)};
  // A cubic curve that leaves the face in its own direction and ends straight backwards.
  const float z0 = face_z(sign * frontal_, y);
  const float slope = std::clamp((z0 - face_z(sign * (frontal_ - 3.0F), y)) / 3.0F, -2.2F, 0.0F);
  const float wide = widest_ * breadth_ * calc_profile(y / scale_, childlike_) *
                     mix(1.0F, temple_, ramp(-6, 26, y));
  const vec2 p0(frontal_, z0);
  const vec2 p1 = p0 + vec2(1, slope) * (0.80F * (wide - frontal_));
  const vec2 p3(wide, kSideDepth);
  const vec2 p2 = p3 + vec2(0, 36);
  const float t = (across - frontal_) / kSideReach;
  if (t > 1)
    return {sign * (p3.x - 0.02F * (across - frontal_ - kSideReach)), y,
            kSideDepth - 1.6F * (across - frontal_ - kSideReach)};
  const float s = 1 - t;
  const vec2 p = s * s * s * p0 + 3 * s * s * t * p1 + 3 * s * t * t * p2 + t * t * t * p3;
  return {sign * p.x, y, p.y};
}

HeadMesh make_head(const scene::PatientAppearance& who, const Relief& relief, const Lids& lids) {
  const HeadSurface head(who, relief, lids);
  const float half = lids.half_ipd();
  HeadMesh out;
  SkinMesh& mesh = out.skin;
  const std::vector<float> ys = make_steps(kSkin.y0 + 2, kSkin.y1 - 2, 1.4F, -50, 28,
                                           -50 * who.face_scale, -23 * who.face_scale);
  std::vector<float> us;
  std::vector<float> half_us = make_steps(0, head.frontal(), 1.4F, -1, 58, 0, 21 * who.face_scale);
  for (float u = head.frontal() + 2.6F; u < head.frontal() + kSideReach + 60; u += 3.0F) {
    half_us.push_back(u);
  }
  for (std::size_t k = half_us.size(); k-- > 1;) us.push_back(-half_us[k]);
  us.insert(us.end(), half_us.begin(), half_us.end());

  const auto normal_at = [&head](float u, float y, float w) {
    const vec3 along = head.at(u + w, y) - head.at(u - w, y);
    const vec3 up = head.at(u, y + w) - head.at(u, y - w);
    return glm::normalize(glm::cross(along, up));
  };
  for (const float y : ys) {
    for (const float u : us) {
      SkinVertex v{};
      const vec3 p = head.at(u, y);
      const bool front = std::abs(u) < head.frontal();
      const float in = front ? Lids::calc_ellipse(half - std::abs(u), y) : 9.0F;
      v.position = p - vec3(0, 0, 0.35F * ramp(1.0F, 0.97F, in));  // below the patch it overlaps
      v.rest = {u, y};
      v.normal = normal_at(u, y, 0.6F);
      v.soft = normal_at(u, y, mix(1.7F, 3.5F, ramp(48, 62, std::abs(u))));
      if (front) {
        const float around = head.at(u - 1.5F, y).z + head.at(u + 1.5F, y).z +
                             head.at(u, y - 1.5F).z + head.at(u, y + 1.5F).z;
        v.wet_cavity = {0, std::clamp(0.25F * around - p.z, -1.0F, 1.0F)};
      }
      mesh.vertices.push_back(v);
    }
  }
  const std::size_t columns = us.size();
  std::array<std::vector<std::uint32_t>, 3> runs;
  for (std::size_t j = 0; j + 1 < ys.size(); ++j) {
    for (std::size_t i = 0; i + 1 < columns; ++i) {
      bool hidden = true;
      bool near = false;
      for (const std::size_t jj : {j, j + 1}) {
        for (const std::size_t ii : {i, i + 1}) {
          hidden = hidden && Lids::calc_ellipse(half - std::abs(us[ii]), ys[jj]) < 0.955F;
          near = near || (std::abs(ys[jj]) < 26 && std::abs(us[ii]) < half + 31);
        }
      }
      if (hidden) continue;
      const std::size_t run = near ? (us[i] + us[i + 1] > 0 ? 1U : 0U) : 2U;
      const auto a = static_cast<std::uint32_t>(j * columns + i);
      const auto b = static_cast<std::uint32_t>((j + 1) * columns + i);
      runs[run].insert(runs[run].end(), {a, a + 1, b, b, a + 1, b + 1});
    }
  }
  SkinMesh ears;
  for (const std::size_t side : {0U, 1U}) add_ear(head, side, who.face_scale, ears);
  const auto base = static_cast<std::uint32_t>(mesh.vertices.size());
  mesh.vertices.insert(mesh.vertices.end(), ears.vertices.begin(), ears.vertices.end());
  for (const std::uint32_t i : ears.indices) runs[2].push_back(base + i);
  for (std::size_t run = 0; run < 3; ++run) {
    out.first[run] = mesh.indices.size();
    mesh.indices.insert(mesh.indices.end(), runs[run].begin(), runs[run].end());
  }
  out.first[3] = mesh.indices.size();
  return out;
}

void add_ear(const HeadSurface& head, std::size_t side, float scale, SkinMesh& mesh) {
  constexpr int kRound = 48;
  constexpr int kOut = 14;
  const float sign = side == 1 ? 1.0F : -1.0F;
  const float size = mix(scale, 1.0F, 0.45F);
  const vec3 root = head.at(sign * (head.frontal() + kSideReach + 14.0F), -22.0F * scale);
  const vec3 back = glm::normalize(vec3(sign * 0.50F, 0, -0.87F));  // stands off by thirty degrees
  const vec3 face = glm::normalize(vec3(sign * 0.87F, 0, 0.50F));
  const auto first = static_cast<std::uint32_t>(mesh.vertices.size());
  for (int k = 0; k < kRound; ++k) {
    const float a = 2 * kPi * static_cast<float>(k) / kRound;
    // The outline: broad above, narrow at the lobe, straight where it joins the head.
    const float up = std::sin(a);
    const float out = std::cos(a);
    const float wide = (out > 0 ? 17.0F + 5.0F * up : 9.0F) * size;
    const float high = (up > 0 ? 29.0F : 31.0F) * size;
    for (int r = 0; r <= kOut; ++r) {
      const float t = static_cast<float>(r) / kOut;
      // From the bowl outwards: bowl, inner ridge, groove, rim that rolls over.
      const float rim_here = ramp(-0.9F, -0.1F, out) * ramp(-1.0F, -0.55F, up);
      float lift = -7.5F * bump(t, 0.42F) + 3.2F * bump(t - 0.62F, 0.13F) * ramp(-0.6F, 0.1F, out);
      lift += rim_here * (4.0F * bump(t - 0.90F, 0.10F) - 1.6F * bump(t - 0.77F, 0.07F));
      lift -= 5.0F * ramp(0.94F, 1.0F, t);
      const vec3 p = root + back * (out * wide * t + 8.0F * size) + vec3(0, up * high * t, 0) +
                     face * (lift * size * 0.8F - 3.0F);
      SkinVertex v{};
      v.position = p;
      // The maps of the skin end here and hold their edge; the fine grain goes on across the ear.
      v.rest = {sign * (90.0F + (out + 1) * 9.0F * t), std::clamp(p.y, kSkin.y0 + 2, kSkin.y1 - 2)};
      v.wet_cavity = {0, std::clamp(-0.16F * lift, -0.5F, 0.9F)};
      mesh.vertices.push_back(v);
    }
  }
  const auto index = [first](int k, int r) {
    return first + static_cast<std::uint32_t>(((k + kRound) % kRound) * (kOut + 1) + r);
  };
  for (int k = 0; k < kRound; ++k) {
    for (int r = 0; r <= kOut; ++r) {
      const vec3 along = mesh.vertices[index(k + 1, std::max(r, 1))].position -
                         mesh.vertices[index(k - 1, std::max(r, 1))].position;
      const vec3 across = mesh.vertices[index(k, std::min(r + 1, kOut))].position -
                          mesh.vertices[index(k, std::max(r - 1, 0))].position;
      const vec3 n = glm::cross(across, along) * sign;
      SkinVertex& v = mesh.vertices[index(k, r)];
      v.normal = v.soft = r == 0 ? face : glm::normalize(n + face * 1e-4F);
      if (r == kOut) continue;
      // Seen from the front, the two ears run round in opposite ways.
      const std::uint32_t a = index(side == 1 ? k + 1 : k, r);
      const std::uint32_t b = index(side == 1 ? k : k + 1, r);
      mesh.indices.insert(mesh.indices.end(), {a, b, a + 1, a + 1, b, b + 1});
    }
  }
}

}  // namespace redress::face
