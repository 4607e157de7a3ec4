// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/draw/picture_timing.hpp"

#include <algorithm>
#include <chrono>
#include <cmath>
#include <ctime>

namespace redress::draw {
namespace {

using scene::Scene;

constexpr double kAcrossMm = 130;
constexpr double kPlateMm = -33.5;  // of the occluder, 20 mm before the cornea

Scene make_scene(int width) {
  Scene s;
  s.view.pixels_per_mm = width / kAcrossMm;
  // Both eyes on the examiner's.
  s.eyes[0].horizontal_deg = -2.9;
  s.eyes[1].horizontal_deg = 2.9;
  return s;
}

Scene look(Scene s, double right_deg, double up_deg) {
  for (scene::EyePose& e : s.eyes) {
    e.horizontal_deg += right_deg;
    e.vertical_deg += up_deg;
  }
  return s;
}

/// A lid shuts in about 75 ms and opens in about 200 (VanderWerf et al. 2003, from memory); frames
/// of 60 a second, one blink after another.
double calc_open(int frame) {
  constexpr int kShutting = 5;
  constexpr int kOpening = 12;
  constexpr int kWhole = 24;
  const int k = frame % kWhole;
  if (k < kShutting) return 1 - static_cast<double>(k + 1) / kShutting;
  if (k < kShutting + kOpening) return static_cast<double>(k + 1 - kShutting) / kOpening;
  return 1;
}

Scene blink(Scene s, int frame) {
  for (scene::EyePose& e : s.eyes) e.lid_open_fraction = calc_open(frame);
  return s;
}

/// A cover comes down from above while a bar is slid from step to step.
Scene move_instruments(Scene s, int frame) {
  s.occluder.present = true;
  s.occluder.centre_mm = {31, 20 - 0.5 * (frame % 40), kPlateMm};
  s.occluder.handle_deg = 45;  // outwards, as it is held before an eye
  scene::Prism bar;
  bar.eye = scene::Eye::kLeft;
  bar.form = scene::PrismForm::kBar;
  for (const double pd : {1.0, 2.0, 4.0, 6.0, 8.0, 10.0, 12.0, 14.0, 16.0, 18.0, 20.0, 25.0, 30.0,
                          35.0, 40.0, 45.0}) {
    constexpr double kDegrees = 57.29577951308232;
    bar.steps.push_back({pd, std::atan(pd / 100) / 0.49 * kDegrees});
  }
  bar.at = 4;
  bar.slide_mm = 0.5 * (frame % 40);
  bar.back_centre_mm = {-31, 0, -27};
  s.prisms = {bar};
  return s;
}

}  // namespace

std::vector<Moments> make_usual_moments(int width) {
  const Scene s = make_scene(width);
  constexpr double kPursuitDegPerFrame = 0.5;  // 30 degrees a second
  return {
      {"at rest", 120, [s](int) { return s; }},
      {"saccades", 120, [s](int k) { return look(s, (k % 20) - 10.0, 0); }},
      {"instruments moving", 120, [s](int k) { return move_instruments(s, k); }},
      {"blinks", 96, [s](int k) { return blink(s, k); }},
      {"vertical pursuit", 80,
       [s](int k) { return look(s, 0, kPursuitDegPerFrame * (20 - std::abs(k % 80 - 40))); }},
  };
}

FrameTimes time_moments(const Moments& moments, PatientPicture& picture,
                        const gl::RenderTarget& target) {
  constexpr int kFirst = 24;
  const auto draw = [&](int frame) {
    picture.draw(moments.scene_at(frame), target.width(), target.height(), target.framebuffer());
    glFinish();
  };
  for (int k = 0; k < kFirst; ++k) draw(k);
  std::vector<double> times;
  const std::clock_t processor = std::clock();
  for (int k = 0; k < moments.frames; ++k) {
    const auto start = std::chrono::steady_clock::now();
    draw(kFirst + k);
    const std::chrono::duration<double, std::milli> took = std::chrono::steady_clock::now() - start;
    times.push_back(took.count());
  }
  FrameTimes answer;
  answer.what = moments.what;
  answer.processor_ms = 1000.0 * static_cast<double>(std::clock() - processor) / CLOCKS_PER_SEC /
                        std::max(moments.frames, 1);
  std::sort(times.begin(), times.end());  // numbers alone: equal ones are one another
  if (times.empty()) return answer;
  answer.median_ms = times[times.size() / 2];
  answer.most_ms = times[times.size() * 99 / 100];
  answer.worst_ms = times.back();
  return answer;
}

}  // namespace redress::draw
