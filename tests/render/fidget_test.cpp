// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// A child's head wanders a little; what stands before it does not, and nothing is told by it.
#include "render/face/fidget.hpp"

#include <catch2/catch.hpp>

#include "tests/render/picture_fixture.hpp"

using namespace redress;
using namespace redress::test;

namespace {

scene::PatientAppearance make_child(std::uint32_t seed) {
  scene::PatientAppearance who;
  who.seed = seed;
  who.age_years = 5;
  who.face_scale = 0.82F;
  who.interpupillary_mm = 51;
  return who;
}

}  // namespace

TEST_CASE("a child fidgets: about a millimetre, mostly still, never by a jump") {
  const scene::PatientAppearance child = make_child(16);
  CHECK(face::calc_fidget_mm(child, 0) == glm::vec2(0, 0));
  float farthest = 0;
  float fastest = 0;
  int still = 0;
  constexpr int kMs = 120000;
  glm::vec2 last(0, 0);
  for (int t = 1; t <= kMs; ++t) {
    const glm::vec2 now = face::calc_fidget_mm(child, t);
    farthest = std::max(farthest, glm::length(now));
    fastest = std::max(fastest, glm::distance(now, last));
    still += now == last ? 1 : 0;
    last = now;
  }
  CHECK(farthest > 0.5F);
  CHECK(farthest < 1.4F);
  CHECK(fastest < 0.015F);  // mm in a millisecond
  CHECK(still > kMs * 8 / 10);
  CHECK(face::calc_fidget_mm(make_child(17), 9000) != face::calc_fidget_mm(child, 9000));
  CHECK(face::calc_fidget_mm(child, 9000) == face::calc_fidget_mm(make_child(16), 9000));
  scene::PatientAppearance adult = child;
  adult.age_years = 30;
  CHECK(face::calc_fidget_mm(adult, 9000) == glm::vec2(0, 0));
}

TEST_CASE("a head that fidgets is the same picture at another place, and the occluder stays") {
  studio();  // the context
  const scene::PatientAppearance child = make_child(16);
  draw::PatientPicture picture(child);
  const gl::RenderTarget target(kWidth, kHeight, 1);
  const auto draw = [&](const scene::Scene& s) {
    picture.draw(s, kWidth, kHeight, target.framebuffer());
    return draw::read_pixels(target.framebuffer(), kWidth, kHeight);
  };
  scene::Scene s = make_scene();
  const draw::Pixels still = draw(s);
  s.fidget_ms = 9000;
  const glm::ivec2 by(glm::round(face::calc_fidget_mm(child, s.fidget_ms) * (kWidth / 130.0F)));
  REQUIRE(by != glm::ivec2(0, 0));
  const draw::Pixels moved = draw(s);
  int differ = 0;
  for (int y = 20; y < kHeight - 20; ++y) {
    for (int x = 20; x < kWidth - 20; ++x) {
      differ += moved.at(x, y) == still.at(x - by.x, y + by.y) ? 0 : 1;
    }
  }
  CHECK(differ == 0);

  // A plate over all of one half: the same pixels wherever the head is.
  s.occluder.present = true;
  s.occluder.hand = false;
  s.occluder.centre_mm = {31, 0, -33.5};
  const draw::Pixels covered_moved = draw(s);
  s.fidget_ms = 0;
  const draw::Pixels covered_still = draw(s);
  int plate = 0;
  const double px = kWidth / 130.0;
  for (int y = kHeight / 2 - 120; y < kHeight / 2 + 120; ++y) {
    for (int x = static_cast<int>(kWidth / 2 - 45 * px); x < kWidth / 2 - 20 * px; ++x) {
      plate += covered_moved.at(x, y) == covered_still.at(x, y) ? 0 : 1;
    }
  }
  CHECK(plate == 0);
}
