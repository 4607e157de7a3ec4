// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// How long pictures take, for people: the moments that an examination is made of, drawn one after
// another as a window would. Nothing is tested by time.
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "render/draw/patient_picture.hpp"
#include "render/gl/texture.hpp"

namespace redress::draw {

/// Of a row of frames, each with the one before it finished; ms.
struct FrameTimes {
  std::string what;
  double median_ms = 0;
  double most_ms = 0;  ///< 99 of 100 take no longer
  double worst_ms = 0;
  double processor_ms = 0;  ///< a frame, of all threads: others' work does not count
};

/// What one person's frames are taken from: at rest, saccades, an occluder and a bar that move, a
/// blink and a vertical pursuit as they are at 60 frames a second.
struct Moments {
  std::string what;
  int frames = 0;
  std::function<scene::Scene(int)> scene_at;
};
std::vector<Moments> make_usual_moments(int width);

/// The first frames, in which a driver still makes its machine code, do not count.
FrameTimes time_moments(const Moments& moments, PatientPicture& picture,
                        const gl::RenderTarget& target);

}  // namespace redress::draw
