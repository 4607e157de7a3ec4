// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Lashes grow in two or three loose rows and lean together in small clumps of unequal size; equal
// spacing or equal length makes a comb of them.
#include "render/face/hair.hpp"
#include "render/face/noise.hpp"

namespace redress::face {
namespace {

using glm::mix;
using glm::vec3;

struct Clump {
  float tip_n = 0;  // where its tips meet
  float length = 1;
  float lean = 0;
  float curl = 1;
};

class LashGrower {
 public:
  LashGrower(const scene::PatientAppearance& who, const Lids& lids, std::size_t side, LidLine line)
      : who_(who), lids_(lids), side_(side), line_(line) {}

  void grow_upper(HairMesh& mesh) const;
  void grow_lower(HairMesh& mesh) const;
  void draw_roots(HairMesh& mesh) const;

 private:
  // Same lashes whatever the lids do.
  [[nodiscard]] Chance make_chance(std::uint32_t row) const {
    return Chance(who_.seed * 29 + static_cast<std::uint32_t>(side_) * 2 + row);
  }
  [[nodiscard]] vec3 root(float n, float y, float sink) const {
    return {lids_.x(side_, n), y, lids_.skin_z(side_, n, y, line_) - sink};
  }
  const scene::PatientAppearance& who_;
  const Lids& lids_;
  std::size_t side_;
  LidLine line_;
};

void LashGrower::grow_upper(HairMesh& mesh) const {
  Chance chance = make_chance(1);
  const float sign = side_ == 1 ? 1.0F : -1.0F;
  const float from = lids_.temporal_end() + 0.6F;
  const float to = lids_.nasal_end() - 4.2F;
  const float step = 0.62F / who_.lash_density;
  const float lowered = ramp(2.5F, -1.5F, line_.top);
  float next = from;
  while (next < to) {
    Clump clump;
    clump.tip_n = next;
    clump.length = 0.62F + 0.50F * chance.even();
    clump.lean = 0.20F * chance.middle();
    clump.curl = 1 + 0.25F * chance.middle();
    const int hairs = 2 + static_cast<int>(chance.even() * 3.6F);
    const int young = 2;  // short ones among the roots: without them the line of lashes has gaps
    for (int k = 0; k < hairs + young; ++k) {
      const float n = std::clamp(clump.tip_n + 0.75F * chance.middle(), from - 0.3F, to + 0.4F);
      const float row = chance.even();
      const float y = lids_.upper(n, line_);
      const float t = (n - from) / (to - from);  // 0 temporal .. 1 nasal
      float length = who_.lash_mm * mix(0.60F, 1.0F, ramp(0.0F, 0.22F, t)) *
                     mix(1.0F, 0.55F, ramp(0.45F, 1.0F, t)) * clump.length *
                     (0.72F + 0.36F * chance.even());
      length *= mix(1.0F, 1.10F, ramp(0.5F, 0.15F, t)) * (k < hairs ? 1.0F : 0.42F);
      const vec3 q0 = root(n, y - 0.16F + 0.36F * row, 0.25F);
      // The lid turns with its margin: where it stands high the lashes point up, in down gaze they
      // are seen over the eye, shut they hang.
      const float turn = (y - 1.2F) / (y > 1.2F ? 8.8F : mix(6.9F, 3.9F, lowered));
      const float tilt = std::asin(std::clamp(turn, -0.83F, 0.75F));
      const vec3 out(0, std::sin(tilt), std::cos(tilt));
      const vec3 up(0, std::cos(tilt), -std::sin(tilt));
      float fan = (n - 0.5F) / 14.0F;
      fan = fan * (fan < 0 ? 0.72F : 0.55F) + clump.lean + 0.06F * chance.middle();
      const vec3 aside(-sign * fan, 0, 0);
      // Leave the lid forwards and a little down, then curl up.
      vec3 q1 = q0 + length * (0.66F * out - (0.26F - 0.14F * row) * up + 0.34F * aside);
      vec3 q2 =
          q0 + length * (0.86F * out +
                         (who_.lash_curl * 0.50F * clump.curl + 0.12F * chance.middle()) * up +
                         0.95F * aside);
      q1.x += length * 0.05F * chance.middle();
      q2.x += 0.85F * (lids_.x(side_, clump.tip_n) - q0.x);
      add_strand({q0, q1, q2, 0.048F + 0.020F * chance.even(), 0.7F + 0.5F * chance.even(), 5},
                 mesh);
    }
    next += step * (0.45F + 1.1F * chance.even());
  }
}

/// Many short hairs stand so close along the upper margin that they are seen as one dark line.
void LashGrower::draw_roots(HairMesh& mesh) const {
  constexpr int kParts = 28;
  const float from = lids_.temporal_end() + 0.3F;
  const float to = lids_.nasal_end() - 4.0F;
  const auto at = [&](float n) { return root(n, lids_.upper(n, line_) + 0.04F, -0.06F); };
  const auto first = static_cast<std::uint32_t>(mesh.vertices.size());
  for (int k = 0; k <= kParts; ++k) {
    const float share = static_cast<float>(k) / kParts;
    const float n = glm::mix(from, to, share);
    const vec3 along = glm::normalize(at(n + 0.2F) - at(n - 0.2F));
    const float half =
        0.21F * who_.lash_density * ramp(0.0F, 0.15F, share) * ramp(1.0F, 0.55F, share);
    // As far along as its tip, a hair lets most of the skin through.
    mesh.vertices.push_back({at(n), along, {-1, half, 1, 1}});
    mesh.vertices.push_back({at(n), along, {1, half, 1, 1}});
  }
  for (std::uint32_t k = 0; k < kParts; ++k) {
    const std::uint32_t p = first + 2 * k;
    mesh.indices.insert(mesh.indices.end(), {p, p + 1, p + 2, p + 2, p + 1, p + 3});
  }
}

void LashGrower::grow_lower(HairMesh& mesh) const {
  Chance chance = make_chance(0);
  const float sign = side_ == 1 ? 1.0F : -1.0F;
  const float from = lids_.temporal_end() + 1.4F;
  const float to = lids_.nasal_end() - 6.5F;
  const float step = 1.0F / who_.lash_density;
  float next = from;
  while (next < to) {
    const float tip = next;
    const float clump_length = 0.6F + 0.55F * chance.even();
    const float clump_lean = 0.26F * chance.middle();
    const int hairs = 1 + static_cast<int>(chance.even() * 2.2F);
    for (int k = 0; k < hairs; ++k) {
      const float n = std::clamp(tip + 0.6F * chance.middle(), from - 0.5F, to + 0.5F);
      const float t = (n - from) / (to - from);
      const float length = 0.44F * who_.lash_mm * mix(0.75F, 1.0F, ramp(0.0F, 0.25F, t)) *
                           mix(1.0F, 0.60F, ramp(0.5F, 1.0F, t)) * clump_length *
                           (0.70F + 0.45F * chance.even());
      const float y = lids_.lower(n, line_) - 0.05F - 0.35F * chance.even();
      const vec3 q0 = root(n, y, 0.05F);
      const vec3 out(0, -0.30F, 0.954F);
      const vec3 up(0, 0.954F, 0.30F);
      float fan = (n - 0.5F) / 14.0F;
      fan = fan * 0.62F + clump_lean + 0.08F * chance.middle();
      const vec3 aside(-sign * fan, 0, 0);
      vec3 q1 = q0 + length * (0.55F * out - 0.42F * up + 0.30F * aside);
      vec3 q2 = q0 + length * (0.70F * out - (0.66F + 0.14F * chance.middle()) * up + 1.0F * aside);
      q1.x += length * 0.06F * chance.middle();
      q2.x += 0.6F * (lids_.x(side_, tip) - q0.x);
      add_strand({q0, q1, q2, 0.024F + 0.012F * chance.even(), 0.8F + 0.5F * chance.even(), 4},
                 mesh);
    }
    next += step * (0.35F + 1.3F * chance.even());
  }
}

}  // namespace

HairMesh make_lashes(const scene::PatientAppearance& who, const Lids& lids, std::size_t side,
                     LidLine line) {
  HairMesh mesh;
  const LashGrower grower(who, lids, side, line);
  grower.grow_lower(mesh);
  grower.draw_roots(mesh);
  grower.grow_upper(mesh);
  return mesh;
}

}  // namespace redress::face
