// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/face/face_model.hpp"

#include <future>

#include "render/face/camera.hpp"

namespace redress::face {

FaceModel make_face_model(const scene::PatientAppearance& who) {
  FaceModel m;
  m.who = who;
  m.relief = std::make_unique<Relief>(who);
  m.lids = std::make_unique<Lids>(who, *m.relief);
  // The maps do not depend on each other: half of them on a second core.
  auto skin = std::async(std::launch::async, [&m, &who] {
    m.detail = make_skin_detail();
    m.pigment = make_pigment_map(who, *m.lids);
  });
  m.light = make_light_map(who, *m.lids, key_lamp());
  for (const std::size_t side : {0U, 1U}) {
    m.iris[side] = make_iris_map(who, side);
    m.sclera[side] = make_sclera_map(who, side);
    m.brows[side] = make_brow(who, *m.lids, side);
  }
  m.head = make_head(who, *m.relief, *m.lids);
  m.temples = make_temple_hair(who, HeadSurface(who, *m.relief, *m.lids));
  skin.get();
  return m;
}

}  // namespace redress::face
