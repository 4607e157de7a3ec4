// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// One offscreen context and one patient for all tests of the picture, and ways to measure pixels.
#pragma once

#include <cmath>
#include <functional>

#include "render/draw/patient_picture.hpp"
#include "render/draw/png.hpp"
#include "render/gl/debug.hpp"
#include "render/gl/offscreen.hpp"

namespace redress::test {

inline constexpr int kWidth = 960;
inline constexpr int kHeight = 540;

/// Draws scenes of the default person and holds what the driver says about it.
class Studio {
 public:
  Studio() : picture_(scene::PatientAppearance{}), target_(kWidth, kHeight, 1) {}
  draw::Pixels draw(const scene::Scene& s) {
    picture_.draw(s, kWidth, kHeight, target_.framebuffer());
    return draw::read_pixels(target_.framebuffer(), kWidth, kHeight);
  }
  /// The same into a framebuffer that does not encode.
  draw::Pixels draw_plain(const scene::Scene& s) {
    const gl::TextureHandle texture = gl::make_texture(kWidth, kHeight, gl::kBytes, nullptr, {});
    const gl::Framebuffer plain = gl::Framebuffer::make();
    glBindFramebuffer(GL_FRAMEBUFFER, plain.id());
    glFramebufferTexture2D(GL_FRAMEBUFFER, GL_COLOR_ATTACHMENT0, GL_TEXTURE_2D, texture.id(), 0);
    picture_.draw(s, kWidth, kHeight, plain.id());
    return draw::read_pixels(plain.id(), kWidth, kHeight);
  }
  std::vector<std::string> check_messages() { return log_.check_messages(); }
  void forget_messages() { log_.forget(); }
  void forget() { picture_.forget(); }
  void set_quality(face::Quality quality) { picture_.set_quality(quality); }
  void measure_quality() { picture_.measure_quality(); }

 private:
  gl::OffscreenContext context_;
  gl::DebugLog log_;
  draw::PatientPicture picture_;
  gl::RenderTarget target_;
};

/// Made once: a person takes most of a second.
inline Studio& studio() {
  static Studio one;
  return one;
}

/// The picture once nothing that moved has to be drawn more finely any more.
inline draw::Pixels settle(const scene::Scene& s) {
  constexpr int kFramesToSettle = 12;
  for (int k = 1; k < kFramesToSettle; ++k) studio().draw(s);
  return studio().draw(s);
}

/// Sets a quality for as long as it lives, then the one that every other test has.
struct WithQuality {
  explicit WithQuality(face::Quality quality) { studio().set_quality(quality); }
  ~WithQuality() { studio().set_quality(face::Quality::kHigh); }
  WithQuality(const WithQuality&) = delete;
  WithQuality& operator=(const WithQuality&) = delete;
};

inline double to_degrees(double prism_dioptres) {
  return std::atan(prism_dioptres / 100) * 57.29577951308232;
}

/// Both eyes straight ahead, the whole width in view.
inline scene::Scene make_scene(double across_mm = 130) {
  scene::Scene s;
  s.view.pixels_per_mm = kWidth / across_mm;
  return s;
}

/// The right eye fills the picture.
inline scene::Scene make_close_scene() {
  scene::Scene s = make_scene(45);
  s.view.centre_x_mm = 31;
  return s;
}

inline double calc_light(std::array<std::uint8_t, 3> p) {
  return 0.25 * p[0] + 0.5 * p[1] + 0.25 * p[2];
}

/// Where a point of the upright head in the plane of the pupils falls, pixels from the top left.
inline std::array<double, 2> to_pixel(const scene::Scene& s, double x_mm, double y_mm) {
  return {0.5 * kWidth + (s.view.centre_x_mm - x_mm) * s.view.pixels_per_mm - 0.5,
          0.5 * kHeight - (y_mm - s.view.centre_y_mm) * s.view.pixels_per_mm - 0.5};
}

struct Centroid {
  double x = 0;
  double y = 0;
  double weight = 0;
};

/// Weighted mean of the pixels within `radius` of a place.
inline Centroid find_centroid(const draw::Pixels& p, double cx, double cy, double radius,
                              const std::function<double(int, int)>& weight_at) {
  Centroid c;
  for (int y = std::max(0, static_cast<int>(cy - radius));
       y <= std::min(p.height - 1, static_cast<int>(cy + radius)); ++y) {
    for (int x = std::max(0, static_cast<int>(cx - radius));
         x <= std::min(p.width - 1, static_cast<int>(cx + radius)); ++x) {
      if (std::hypot(x - cx, y - cy) > radius) continue;
      const double w = weight_at(x, y);
      c.x += w * x;
      c.y += w * y;
      c.weight += w;
    }
  }
  c.x /= std::max(c.weight, 1e-9);
  c.y /= std::max(c.weight, 1e-9);
  return c;
}

/// The dark disc near a place; the search follows it twice, so that a rough place will do.
inline Centroid find_pupil(const draw::Pixels& p, double x, double y, double mm_px,
                           double dark = 48) {
  Centroid c{x, y, 0};
  for (const double radius_mm : {3.6, 2.6, 2.4}) {
    c = find_centroid(p, c.x, c.y, radius_mm * mm_px, [&](int px, int py) {
      return std::clamp((dark - calc_light(p.at(px, py))) / (0.5 * dark), 0.0, 1.0);
    });
  }
  return c;
}

/// How many pixels of two pictures differ where `counts` holds.
inline int count_differences(const draw::Pixels& a, const draw::Pixels& b,
                             const std::function<bool(int, int)>& counts) {
  int n = 0;
  for (int y = 0; y < a.height; ++y) {
    for (int x = 0; x < a.width; ++x) {
      if (counts(x, y) && a.at(x, y) != b.at(x, y)) ++n;
    }
  }
  return n;
}

}  // namespace redress::test
