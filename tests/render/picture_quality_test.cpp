// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// What a slow machine leaves out is skin, never what is measured on an eye.
#include <catch2/catch.hpp>

#include "tests/render/picture_fixture.hpp"

using namespace redress;
using namespace redress::test;

namespace {

Centroid find_right_pupil(const scene::Scene& s, const draw::Pixels& p) {
  const std::array<double, 2> at =
      to_pixel(s, 31 + 0.18 * s.eyes[0].horizontal_deg, 0.18 * s.eyes[0].vertical_deg);
  return find_pupil(p, at[0], at[1], s.view.pixels_per_mm);
}

}  // namespace

TEST_CASE("a pupil is in the same place at every quality") {
  std::vector<scene::Scene> scenes(4, make_close_scene());
  scenes[1].eyes[0].horizontal_deg = to_degrees(0.25);
  scenes[2].eyes[0].horizontal_deg = to_degrees(-20);
  scenes[3].eyes[0].vertical_deg = to_degrees(4);
  std::vector<Centroid> high;
  for (const scene::Scene& s : scenes) high.push_back(find_right_pupil(s, settle(s)));
  for (const face::Quality quality : {face::Quality::kMedium, face::Quality::kLow}) {
    const WithQuality with(quality);
    for (std::size_t k = 0; k < scenes.size(); ++k) {
      const Centroid moving = find_right_pupil(scenes[k], studio().draw(scenes[k]));
      const Centroid still = find_right_pupil(scenes[k], settle(scenes[k]));
      for (const Centroid& c : {moving, still}) {
        CHECK(std::hypot(c.x - high[k].x, c.y - high[k].y) < 0.05);
      }
    }
  }
}

TEST_CASE("at every quality the eyes alone change when they move") {
  for (const face::Quality quality : {face::Quality::kMedium, face::Quality::kLow}) {
    const WithQuality with(quality);
    scene::Scene s = make_scene();
    const draw::Pixels straight = settle(s);
    s.eyes[0].horizontal_deg = to_degrees(20);
    s.eyes[1].horizontal_deg = -to_degrees(12);
    const draw::Pixels moved = studio().draw(s);
    CHECK(count_differences(straight, moved, [&s](int x, int y) {
            for (const double eye : {31.0, -31.0}) {
              const std::array<double, 2> at = to_pixel(s, eye, 0);
              if (std::abs(x - at[0]) < 17 * s.view.pixels_per_mm &&
                  std::abs(y - at[1]) < 9 * s.view.pixels_per_mm) {
                return false;
              }
            }
            return true;
          }) == 0);
  }
}

TEST_CASE("once all is still, what moved before does not show, at every quality") {
  for (const face::Quality quality :
       {face::Quality::kHigh, face::Quality::kMedium, face::Quality::kLow}) {
    const WithQuality with(quality);
    const scene::Scene s = make_scene();
    studio().forget();
    const draw::Pixels fresh = studio().draw(s);
    scene::Scene other = s;
    other.eyes[0].lid_open_fraction = 0.2;
    studio().draw(other);
    CHECK(settle(s) == fresh);
    other.head.turn_deg = 10;
    studio().draw(other);
    CHECK(settle(s) == fresh);
  }
}

TEST_CASE("every quality closes a lid fully, also while it moves") {
  for (const face::Quality quality : {face::Quality::kMedium, face::Quality::kLow}) {
    const WithQuality with(quality);
    scene::Scene s = make_scene();
    settle(s);
    for (scene::EyePose& e : s.eyes) e.lid_open_fraction = 0;
    const draw::Pixels shut = studio().draw(s);
    for (scene::EyePose& e : s.eyes) e.horizontal_deg = 20;
    const draw::Pixels elsewhere = settle(s);
    for (scene::EyePose& e : s.eyes) e.horizontal_deg = -20;
    CHECK(settle(s) == elsewhere);
    const std::array<double, 2> at = to_pixel(s, 31, 0);
    CHECK(calc_light(shut.at(static_cast<int>(at[0]), static_cast<int>(at[1]))) > 60);
  }
}

TEST_CASE("a picture that finds its own quality keeps what it shows") {
  const WithQuality with(face::Quality::kHigh);
  const scene::Scene s = make_close_scene();
  const Centroid high = find_right_pupil(s, settle(s));
  studio().measure_quality();
  for (int k = 0; k < 60; ++k) studio().draw(s);
  const Centroid found = find_right_pupil(s, settle(s));
  CHECK(std::hypot(found.x - high.x, found.y - high.y) < 0.05);
}

namespace {

PFNGLRENDERBUFFERSTORAGEMULTISAMPLEPROC real_store = nullptr;

void GLAD_API_PTR store_single(GLenum target, GLsizei samples, GLenum format, GLsizei width,
                               GLsizei height) {
  // As a driver that says it has samples and has none: nothing is stored.
  if (samples <= 1) real_store(target, samples, format, width, height);
}

/// A driver without multisampling, for as long as it lives.
struct WithoutSamples {
  WithoutSamples() {
    studio();
    real_store = glad_glRenderbufferStorageMultisample;
    glad_glRenderbufferStorageMultisample = store_single;
  }
  ~WithoutSamples() {
    glad_glRenderbufferStorageMultisample = real_store;
    studio().forget_messages();  // of stores that could not be drawn into
  }
  WithoutSamples(const WithoutSamples&) = delete;
  WithoutSamples& operator=(const WithoutSamples&) = delete;
};

}  // namespace

TEST_CASE("a driver without multisampling draws with one sample, and pupils where they are") {
  const scene::Scene s = make_close_scene();
  const Centroid smooth = find_right_pupil(s, settle(s));
  const WithoutSamples without;
  CHECK(gl::RenderTarget(64, 64, 4, true).samples() == 1);
  // Made anew, as a window does when it begins: low has no samples, high asks for four.
  studio().set_quality(face::Quality::kLow);
  const WithQuality with(face::Quality::kHigh);
  studio().forget();
  const draw::Pixels plain = settle(s);
  const Centroid found = find_right_pupil(s, plain);
  CHECK(std::hypot(found.x - smooth.x, found.y - smooth.y) < 0.05);
  scene::Scene shut = s;
  for (scene::EyePose& e : shut.eyes) e.lid_open_fraction = 0;
  CHECK(settle(shut) != plain);
}

TEST_CASE("after a driver without multisampling the picture is as before") {
  const scene::Scene s = make_scene();
  studio().set_quality(face::Quality::kLow);
  studio().set_quality(face::Quality::kHigh);
  studio().forget();
  const draw::Pixels fresh = studio().draw(s);
  CHECK(settle(s) == fresh);
}

TEST_CASE("the driver says nothing about the qualities") {
  const std::vector<std::string> messages = studio().check_messages();
  for (const std::string& m : messages) UNSCOPED_INFO(m);
  CHECK(messages.empty());
}
