// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The part of the head that keeps still: the face round the two lid patches, its sides, the ears.
#pragma once

#include "render/face/lids.hpp"

namespace redress::face {

/// Triangles in three runs, so that a lid redraw needs only those near one eye.
struct HeadMesh {
  SkinMesh skin;
  std::array<std::size_t, 4> first{};  ///< near right eye, near left eye, elsewhere, end
};

HeadMesh make_head(const scene::PatientAppearance& who, const Relief& relief, const Lids& lids);

/// The skin at (u, y), where u runs along it from the midline: up to kFrontal it is the picture's
/// x, beyond it goes on round the side of the head.
class HeadSurface {
 public:
  HeadSurface(const scene::PatientAppearance& who, const Relief& relief, const Lids& lids);
  [[nodiscard]] glm::vec3 at(float u, float y) const;
  [[nodiscard]] float frontal() const { return frontal_; }

 private:
  [[nodiscard]] float face_z(float x, float y) const;
  const Relief* relief_;
  const Lids* lids_;
  float frontal_;
  float widest_;
  float scale_;
  float temple_;
  float breadth_;
  float childlike_;
  std::array<LidLine, 2> rest_;
};

/// An ear of `side`, appended to the mesh.
void add_ear(const HeadSurface& head, std::size_t side, float scale, SkinMesh& mesh);

}  // namespace redress::face
