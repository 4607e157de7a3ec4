// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The picture of one patient: what a window or a PNG needs of this library.
//
//   PatientPicture picture(appearance);          // needs a current OpenGL 3.3 context
//   picture.draw(scene, 1280, 720, framebuffer); // framebuffer 0 is the window's
//
// draw() leaves blending, depth, scissor and sRGB encoding off, nothing bound but the target.
#pragma once

#include <memory>
#include <optional>
#include <vector>

#include "render/face/eye_painter.hpp"

namespace redress::draw {

class InstrumentPainter;

class PatientPicture {
 public:
  /// Makes everything of the person; a few tenths of a second.
  explicit PatientPicture(const scene::PatientAppearance& who);
  /// The same with the slow part, face::make_face_model, done elsewhere (on another thread, say).
  explicit PatientPicture(face::FaceModel model);
  ~PatientPicture();
  PatientPicture(const PatientPicture&) = delete;
  PatientPicture& operator=(const PatientPicture&) = delete;

  /// Draws the moment into the lower left width x height pixels of `target`.
  void draw(const scene::Scene& scene, int width, int height, GLuint target);
  /// The same, into a box whose lower left corner is at (x, y).
  void draw_at(const scene::Scene& scene, gl::PixelBox box, GLuint target);

  [[nodiscard]] const scene::PatientAppearance& appearance() const { return model_.who; }
  /// Draws the cached layer again from nothing next time; for timing.
  void forget() { layer_.forget(); }
  /// High unless told otherwise: then a picture follows from the scene alone.
  void set_quality(face::Quality quality);
  /// Begins low, and within the first frames goes as high as the time that they take allows. For a
  /// window; which step it is changes nothing of what is measured on an eye.
  void measure_quality();
  [[nodiscard]] face::Quality quality() const { return layer_.quality(); }

 private:
  face::FaceModel model_;
  face::FaceLayer layer_;
  face::EyePainter eyes_;
  std::unique_ptr<InstrumentPainter> instruments_;
  gl::RenderTarget composed_;
  gl::RenderTarget moved_;  // of a head that has left its place
  void time_quality();
  void draw_moved(const scene::Scene& scene, const face::Camera& camera, glm::ivec2 by);
  void finish(const gl::RenderTarget& picture, gl::PixelBox box, GLuint target);
  void compose(const scene::Scene& scene, const face::Camera& camera, gl::PixelBox part);
  [[nodiscard]] std::vector<gl::PixelBox> find_parts(const scene::Scene& scene,
                                                     const face::Camera& camera) const;
  int frames_ = 0;
  int to_time_ = 0;                   // timings until the quality is chosen
  double least_ms_ = 1e9;             // that the lids of one eye took
  std::optional<scene::Scene> last_;  // what composed_ shows
  face::Camera last_camera_;
  gl::PixelBox dirty_;  // where composed_ holds more than the layer and the eyes
};

}  // namespace redress::draw
