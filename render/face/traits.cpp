// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/face/traits.hpp"

#include "render/face/maths.hpp"
#include "render/face/noise.hpp"

namespace redress::face {

Traits make_traits(const scene::PatientAppearance& who) {
  Chance chance(who.seed * 101 + 7);
  // A child's nose and brows have not set yet.
  const float grown = ramp(0.80F, 1.0F, who.face_scale);
  const float shape = glm::mix(0.5F, 1.0F, grown);
  Traits t;
  t.nose_lean_mm = 1.1F * chance.middle() * shape;
  t.tip_width = 1 + 0.16F * chance.middle() * shape;
  t.tip_drop_mm = (1.6F * chance.middle() + 1.6F * ramp(50, 80, who.age_years)) * shape;
  t.wing_flare = chance.middle();
  t.hump_mm = (1.1F * chance.middle() + 0.3F) * grown;
  t.cheek_tilt_mm = 0.7F * chance.middle();
  t.temple = 1 + 0.025F * chance.middle();
  t.hairline_mm = 3.0F * chance.middle();
  t.crease_mm = {0.35F * chance.middle(), 0.35F * chance.middle()};
  t.peak = 0.11F * chance.middle();
  t.brow_mm = {0.6F * chance.middle(), 0.6F * chance.middle()};
  t.brow_peak = 0.64F + 0.13F * chance.middle();
  t.brow_tail = 1.40F + 0.55F * chance.middle();
  t.brow_taper = 0.46F + 0.16F * chance.middle();
  t.brow_fullness = 1.10F + 0.16F * chance.middle();
  t.brow_lean = 1 + 0.35F * chance.middle();
  t.childlike = 1 - ramp(0.78F, 1.0F, who.face_scale);
  t.breadth = 1 + 0.03F * chance.middle();
  t.forehead_mm = 0.9F * chance.middle() + 2.2F * t.childlike;
  return t;
}

}  // namespace redress::face
