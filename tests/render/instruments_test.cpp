// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Occluder and prisms: what they hide, and which way they shift what they show.
#include <catch2/catch.hpp>

#include "render/face/people.hpp"
#include "sim/room/holding_hand.hpp"
#include "tests/render/picture_fixture.hpp"

using namespace redress;
using namespace redress::test;

namespace {

scene::Scene cover_right(scene::Scene s) {
  s.occluder.present = true;
  s.occluder.centre_mm = {31, 0, -33.5};
  return s;
}

scene::Prism make_prism(scene::Eye eye, double power_pd, double base_deg) {
  scene::Prism p;
  p.eye = eye;
  p.steps = {{power_pd, power_pd / 100 / 0.49 * 57.29577951308232}};
  p.base_deg = base_deg;
  p.back_centre_mm = {eye == scene::Eye::kRight ? 31.0 : -31.0, 0, -27};
  return p;
}

}  // namespace

TEST_CASE("a covered eye shows no pixel of itself") {
  scene::Scene s = cover_right(make_scene());
  const draw::Pixels before = studio().draw(s);
  for (const scene::EyePose& pose :
       {scene::EyePose{to_degrees(20), 0, 0, 3.5, 1}, scene::EyePose{-20, 0, 9, 7, 1},
        scene::EyePose{0, 0, 0, 2, 1}}) {
    s.eyes[0] = pose;
    CHECK(studio().draw(s) == before);
  }
  // Lids reach further than the plate is opaque, so only behind it for them.
  s.eyes[0] = {0, 15, 0, 3.5, 0};
  const draw::Pixels shut = studio().draw(s);
  CHECK(count_differences(before, shut, [&s](int x, int y) {
          const std::array<double, 2> at = to_pixel(s, 31 * 1.04, 0);
          return std::abs(x - at[0]) < 23 * s.view.pixels_per_mm &&
                 std::abs(y - at[1]) < 14 * s.view.pixels_per_mm;
        }) == 0);
}

TEST_CASE("the other eye is seen while one is covered") {
  scene::Scene s = cover_right(make_scene());
  const draw::Pixels before = studio().draw(s);
  s.eyes[1].horizontal_deg = to_degrees(2);
  CHECK(count_differences(before, studio().draw(s), [](int, int) { return true; }) > 50);
}

TEST_CASE("a frosted occluder shows that there is an eye, an opaque one does not") {
  scene::Scene s = cover_right(make_scene());
  s.occluder.translucent = true;
  const draw::Pixels before = studio().draw(s);
  s.eyes[0].horizontal_deg = 20;
  CHECK(count_differences(before, studio().draw(s), [](int, int) { return true; }) > 100);
  s.occluder.translucent = false;
  s.transparent_occluder = true;
  const draw::Pixels ghost = studio().draw(s);
  s.eyes[0].horizontal_deg = 0;
  CHECK(count_differences(ghost, studio().draw(s), [](int, int) { return true; }) > 100);
}

TEST_CASE("an occluder in its ready place leaves both eyes as they were") {
  const scene::Scene bare = make_scene();
  scene::Scene s = bare;
  s.occluder.present = true;
  s.occluder.centre_mm = {0, -73, -120};
  CHECK(count_differences(studio().draw(bare), studio().draw(s),
                          [&s](int, int y) { return y < to_pixel(s, 0, -12)[1]; }) == 0);
}

TEST_CASE("a prism shifts the eye behind it towards its apex, in proportion to its power") {
  scene::Scene s = make_scene(60);
  for (const scene::Eye eye : {scene::Eye::kRight, scene::Eye::kLeft}) {
    const double x_mm = eye == scene::Eye::kRight ? 31 : -31;
    s.view.centre_x_mm = x_mm;
    s.prisms.clear();
    const std::array<double, 2> at = to_pixel(s, x_mm, 0);
    const double px = s.view.pixels_per_mm;
    const Centroid bare = find_pupil(studio().draw(s), at[0], at[1], px, 80);
    for (const double base_deg : {0.0, 90.0, 180.0, 270.0}) {
      double small = 0;
      for (const double power : {4.0, 12.0}) {
        s.prisms = {make_prism(eye, power, base_deg)};
        const Centroid seen = find_pupil(studio().draw(s), at[0], at[1], px, 80);
        // The base points to (-cos, sin) in the head's x, y; the picture's x runs against it.
        const double beta = base_deg * 3.14159265358979 / 180;
        const double base_x = std::cos(beta);
        const double base_y = -std::sin(beta);
        const double along = (seen.x - bare.x) * base_x + (seen.y - bare.y) * base_y;
        const double across = (seen.x - bare.x) * base_y - (seen.y - bare.y) * base_x;
        INFO("eye " << x_mm << ", base " << base_deg << ", " << power << " dioptres: " << along / px
                    << " mm to the base, " << across / px << " mm across");
        CHECK(along / px < -0.14 * power);
        CHECK(along / px > -0.26 * power);
        CHECK(std::abs(across / px) < 0.12 * std::abs(along / px) + 0.1);
        if (power < 5) {
          small = along;
        } else {  // more glass adds a little of its own where it is looked through aslant
          CHECK(along / small == Approx(3).margin(0.5));
        }
      }
    }
  }
}

TEST_CASE("outside a prism nothing is shifted") {
  const scene::Scene bare = make_scene();
  scene::Scene s = bare;
  s.prisms = {make_prism(scene::Eye::kRight, 20, 0)};
  const std::array<double, 2> at = to_pixel(s, 31, 0);
  CHECK(count_differences(studio().draw(bare), studio().draw(s), [&](int x, int y) {
          return std::abs(x - at[0]) > 24 * s.view.pixels_per_mm ||
                 std::abs(y - at[1]) > 23 * s.view.pixels_per_mm;
        }) == 0);
}

TEST_CASE("a stack of prisms adds up, and an occluder before it hides it") {
  scene::Scene s = make_scene(60);
  s.view.centre_x_mm = 31;
  const std::array<double, 2> at = to_pixel(s, 31, 0);
  const auto seen = [&] {
    return find_pupil(studio().draw(s), at[0], at[1], s.view.pixels_per_mm, 90).x;
  };
  const double bare = seen();
  s.prisms = {make_prism(scene::Eye::kRight, 6, 180)};
  const double one = seen();
  s.prisms.push_back(make_prism(scene::Eye::kRight, 6, 180));
  s.prisms[1].back_centre_mm.z = -33;
  const double two = seen();
  INFO("bare " << bare << ", one " << one << ", two " << two);
  CHECK(std::abs(two - bare) > 1.7 * std::abs(one - bare));
  s.occluder.present = true;
  s.occluder.centre_mm = {31, 0, -55};
  const draw::Pixels hidden = studio().draw(s);
  s.prisms.clear();
  CHECK(count_differences(hidden, studio().draw(s), [&](int x, int y) {
          return std::abs(x - at[0]) < 20 * s.view.pixels_per_mm &&
                 std::abs(y - at[1]) < 15 * s.view.pixels_per_mm;
        }) == 0);
}

TEST_CASE("PNG bytes begin as a PNG does") {
  const std::vector<std::uint8_t> bytes = draw::format_png(studio().draw(make_scene()));
  REQUIRE(bytes.size() > 1000);
  CHECK(bytes[1] == 'P');
  CHECK(bytes[2] == 'N');
  CHECK(bytes[3] == 'G');
}

TEST_CASE("instruments leave the driver without complaint") {
  const std::vector<std::string> messages = studio().check_messages();
  for (const std::string& m : messages) UNSCOPED_INFO(m);
  CHECK(messages.empty());
}

TEST_CASE("the hand that holds the occluder is seen, and hides neither eye while it covers") {
  for (const bool translucent : {false, true}) {
    for (const double x_mm : {31.0, 0.0, -31.0}) {
      scene::Scene s = make_scene(200);
      scene::Scene held = cover_right(s);
      held.occluder.centre_mm.x = x_mm;
      held.occluder.handle_deg = handle_lean_deg({x_mm, 0, -33.5, 0});
      held.occluder.translucent = translucent;
      const draw::Pixels with = studio().draw(held);
      held.occluder.hand = false;
      const draw::Pixels without = studio().draw(held);
      const double mm2 = count_differences(with, without, [](int, int) { return true; }) /
                         (s.view.pixels_per_mm * s.view.pixels_per_mm);
      INFO("over " << x_mm << " mm: " << mm2 << " mm2 of hand");
      CHECK(mm2 > 1000);  // of a fist 60 mm wide; its lower end is outside the picture
      for (const double eye_mm : {31.0, -31.0}) {  // what is always left to the eyes
        const std::array<double, 2> eye = to_pixel(s, eye_mm, 0);
        CHECK(count_differences(with, without, [&](int x, int y) {
                return std::hypot(x - eye[0], y - eye[1]) < 16 * s.view.pixels_per_mm;
              }) == 0);
      }
    }
  }
}

TEST_CASE("the examiner's left hand is the right one in a mirror") {
  scene::Scene s = cover_right(make_scene());
  s.occluder.centre_mm = {0, 30, -120};  // too far away for a shadow
  const auto draw_hand = [&s](bool left) {
    s.occluder.left_hand = left;
    s.occluder.hand = true;
    const draw::Pixels with = studio().draw(s);
    s.occluder.hand = false;
    const draw::Pixels without = studio().draw(s);
    std::vector<bool> hand;
    for (int y = 0; y < kHeight; ++y) {
      for (int x = 0; x < kWidth; ++x) hand.push_back(with.at(x, y) != without.at(x, y));
    }
    return hand;
  };
  const std::vector<bool> right = draw_hand(false);
  const std::vector<bool> left = draw_hand(true);
  int all = 0;
  int unlike = 0;
  int shifted = 0;
  for (std::size_t y = 0; y < kHeight; ++y) {
    for (std::size_t x = 0; x < kWidth; ++x) {
      const bool there = right[y * kWidth + x];
      if (there) ++all;
      if (there != left[y * kWidth + kWidth - 1 - x]) ++unlike;
      if (there != left[y * kWidth + x]) ++shifted;
    }
  }
  INFO(all << " pixels of hand, " << unlike << " unlike in the mirror, " << shifted << " as it is");
  CHECK(all > 20000);
  CHECK(unlike < all / 100);
  CHECK(shifted > all / 20);
}

TEST_CASE("a hand that is lifted gets in the way of the eye that was covered") {
  scene::Scene s = cover_right(make_scene());
  s.occluder.centre_mm.y = 70;
  const auto seen = [&] {
    s.eyes[0].horizontal_deg = 0;
    const draw::Pixels straight = studio().draw(s);
    s.eyes[0].horizontal_deg = 20;
    return count_differences(straight, studio().draw(s), [](int, int) { return true; });
  };
  const int behind_hand = seen();
  s.occluder.hand = false;
  CHECK(behind_hand < seen() / 2);
}

namespace {

const GLubyte* tell_no_extension(GLenum, GLuint) {
  static const GLubyte kNone[] = "none";
  return static_cast<const GLubyte*>(kNone);
}

/// A driver that decodes whatever it reads, for as long as it lives.
struct AlwaysDecodes {
  AlwaysDecodes() : real(glad_glGetStringi) { glad_glGetStringi = tell_no_extension; }
  ~AlwaysDecodes() { glad_glGetStringi = real; }
  AlwaysDecodes(const AlwaysDecodes&) = delete;
  AlwaysDecodes& operator=(const AlwaysDecodes&) = delete;
  PFNGLGETSTRINGIPROC real;
};

}  // namespace

TEST_CASE("glass shows the same whether its driver reads colours as stored or decodes them") {
  scene::Scene s = make_scene();
  s.prisms = {make_prism(scene::Eye::kRight, 30, 0)};
  s.spectacles.worn = true;
  s.spectacles.lenses[1].power_xx_d = s.spectacles.lenses[1].power_yy_d = -4;
  studio();  // the context
  const gl::RenderTarget target(kWidth, kHeight, 1);
  const auto draw_anew = [&] {
    draw::PatientPicture picture(face::people().front().look);
    picture.draw(s, kWidth, kHeight, target.framebuffer());
    return draw::read_pixels(target.framebuffer(), kWidth, kHeight);
  };
  const draw::Pixels stored = draw_anew();
  const AlwaysDecodes without;
  const draw::Pixels decoded = draw_anew();
  int most = 0;
  double sum = 0;
  for (std::size_t k = 0; k < stored.rgb.size(); ++k) {
    const int d = std::abs(int{stored.rgb[k]} - int{decoded.rgb[k]});
    most = std::max(most, d);
    sum += d;
  }
  // Between a dark and a light texel, mixed before or after decoding.
  INFO("most " << most << ", mean " << sum / static_cast<double>(stored.rgb.size()));
  CHECK(most <= 48);
  CHECK(sum / static_cast<double>(stored.rgb.size()) < 0.1);
  CHECK(stored != decoded);
}
