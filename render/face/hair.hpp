// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Brows, lashes and the hair at the temples as thin ribbons that the vertex shader turns to the
// examiner.
#pragma once

#include "render/face/head_mesh.hpp"

namespace redress::face {

/// Ten floats, uploaded as they are.
struct HairVertex {
  glm::vec3 position;
  glm::vec3 along;
  glm::vec4 side_width_t_tint;  ///< -1/+1; half width mm; 0 root .. 1 tip; 2 is a white hair
};
struct HairMesh {
  std::vector<HairVertex> vertices;
  std::vector<std::uint32_t> indices;
};

/// The hairy band of one brow; u = 0 at its medial end, 1 at its tail.
class BrowLine {
 public:
  BrowLine(const scene::PatientAppearance& who, std::size_t side);
  [[nodiscard]] float across(float u) const { return glm::mix(from_, to_, u); }  ///< from midline
  [[nodiscard]] float y(float u) const;
  [[nodiscard]] float lean() const { return traits_.brow_lean; }
  [[nodiscard]] float half_width(float u) const;
  /// 0..1: the shade that hair leaves on the skin.
  [[nodiscard]] float calc_density(float across, float y) const;

 private:
  float from_;
  float to_;
  float start_;
  float arch_;
  float width_;
  Traits traits_;
};

HairMesh make_brow(const scene::PatientAppearance& who, const Lids& lids, std::size_t side);
HairMesh make_lashes(const scene::PatientAppearance& who, const Lids& lids, std::size_t side,
                     LidLine line);
HairMesh make_temple_hair(const scene::PatientAppearance& who, const HeadSurface& head);
/// 0..1, how densely the scalp is haired at (u, y) along the skin.
float calc_scalp(const scene::PatientAppearance& who, float u, float y);

/// A hair as a quadratic curve from a over b to c.
struct Strand {
  glm::vec3 a;
  glm::vec3 b;
  glm::vec3 c;
  float half_width = 0.04F;
  float tint = 1;
  int parts = 3;
};
void add_strand(const Strand& strand, HairMesh& mesh);

}  // namespace redress::face
