// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Everything of one person that can be made without a graphics card: meshes and maps.
#pragma once

#include <memory>

#include "render/face/maps.hpp"

namespace redress::face {

struct FaceModel {
  scene::PatientAppearance who;
  std::unique_ptr<Relief> relief;
  std::unique_ptr<Lids> lids;
  HeadMesh head;
  std::array<HairMesh, 2> brows;
  HairMesh temples;
  Image detail;
  Image pigment;
  Image light;
  std::array<Image, 2> iris;
  std::array<Image, 2> sclera;
};

/// Takes a few tenths of a second; touches no GL, so it can run on a thread of its own.
FaceModel make_face_model(const scene::PatientAppearance& who);

}  // namespace redress::face
