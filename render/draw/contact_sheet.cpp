// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Sheets of pictures to look at while working on the face, and timings. Usage:
//   redress_contact_sheet people|gazes|close|lids|instruments|spectacles|room|hand|time [FOLDER]
//   redress_contact_sheet moments [WHICH], as `redress bench` times them, at low quality
#include <algorithm>
#include <chrono>
#include <cmath>
#include <cstdio>
#include <ctime>
#include <functional>
#include <string>

#include "render/draw/patient_picture.hpp"
#include "render/draw/picture_timing.hpp"
#include "render/draw/png.hpp"
#include "render/face/people.hpp"
#include "render/gl/debug.hpp"
#include "render/gl/offscreen.hpp"

namespace {

using namespace redress;
using scene::Scene;

struct Shot {
  std::size_t person = 0;
  Scene scene;
};

struct Sheet {
  std::string name;
  int columns = 2;
  int width = 640;
  int height = 360;
  std::vector<Shot> shots;
};

Scene make_scene(double across_mm, int width) {
  Scene s;
  s.view.pixels_per_mm = width / across_mm;
  s.light.penlight = true;
  // Both eyes on the examiner's.
  s.eyes[0].horizontal_deg = -2.9;
  s.eyes[1].horizontal_deg = 2.9;
  return s;
}

Scene look(Scene s, double right_deg, double up_deg, double open = 1) {
  for (scene::EyePose& e : s.eyes) {
    e.horizontal_deg += right_deg;
    e.vertical_deg += up_deg;
    e.lid_open_fraction = open;
  }
  return s;
}

Scene cover(Scene s, double x, double y, double z, bool translucent = false) {
  s.occluder.present = true;
  s.occluder.translucent = translucent;
  s.occluder.centre_mm = {x, y, z};
  const double t = std::clamp(x / 24, -1.0, 1.0);  // as the room leans it
  s.occluder.handle_deg = 45 * t * (1.5 - 0.5 * t * t);
  return s;
}

scene::Prism make_prism(scene::Eye eye, double power, double base_deg, scene::PrismForm form) {
  scene::Prism p;
  p.eye = eye;
  p.form = form;
  const auto step = [](double pd) { return scene::PrismStep{pd, pd / 100 / 0.49 * 57.2958}; };
  if (form == scene::PrismForm::kLoose) {
    p.steps = {step(power)};
  } else {
    for (const double pd : {-4.0, -2.0, 0.0, 2.0, 4.0}) {
      if (power + pd > 0) p.steps.push_back(step(power + pd));
      if (pd == 0) p.at = p.steps.size() - 1;
    }
  }
  p.base_deg = base_deg;
  p.back_centre_mm = {eye == scene::Eye::kRight ? 31.0 : -31.0, 0, -27};
  return p;
}

Sheet make_people_sheet() {
  Sheet sheet{"people", 4, 480, 270, {}};
  for (std::size_t k = 0; k < face::people().size(); ++k) {
    sheet.shots.push_back({k, make_scene(130, sheet.width)});
  }
  return sheet;
}

Sheet make_gaze_sheet() {
  Sheet sheet{"gazes", 3, 640, 360, {}};
  const Scene s = make_scene(130, sheet.width);
  Scene turned = s;
  turned.head = {0, -20, 4};
  Scene tilted = s;
  tilted.head = {20, 0, 0};
  Scene one = s;
  one.eyes[1].horizontal_deg -= 17;
  sheet.shots = {{0, s},
                 {0, look(s, -28, 0)},
                 {0, look(s, 0, 24)},
                 {0, look(s, 0, -30)},
                 {0, look(s, 0, 0, 0.45)},
                 {0, look(s, 0, 0, 0)},
                 {10, look(s, 28, 0)},
                 {1, look(s, 0, -30)},
                 {3, look(s, 0, 20)},
                 {2, look(s, 0, 0, 0)},
                 {10, turned},
                 {9, tilted},
                 {7, one},
                 {5, look(s, 0, 0, 0)},
                 {4, look(s, 12, -12)}};
  return sheet;
}

Sheet make_close_sheet() {
  Sheet sheet{"close", 2, 960, 540, {}};
  for (const std::size_t k : {0U, 2U, 3U, 1U, 16U, 17U}) {
    Scene s = make_scene(45, sheet.width);
    s.view.centre_x_mm =
        (k % 2 == 0 ? -0.5 : 0.5) * static_cast<double>(face::people()[k].look.interpupillary_mm);
    sheet.shots.push_back({k, s});
  }
  return sheet;
}

/// Lids that are down, near by: fair and dark, young and old, with a fold and without.
Sheet make_lid_sheet() {
  Sheet sheet{"lids", 3, 640, 360, {}};
  for (const std::size_t k : {0U, 1U, 2U, 3U, 5U, 9U}) {
    Scene s = make_scene(58, sheet.width);
    s.view.centre_x_mm = 0.5 * static_cast<double>(face::people()[k].look.interpupillary_mm);
    sheet.shots.push_back({k, look(s, 0, -26)});
    sheet.shots.push_back({k, look(s, 0, 0, 0.4)});
    sheet.shots.push_back({k, look(s, 0, 0, 0)});
  }
  return sheet;
}

Sheet make_instrument_sheet() {
  Sheet sheet{"instruments", 2, 960, 540, {}};
  const Scene s = make_scene(130, sheet.width);
  Scene bar = s;
  bar.prisms = {make_prism(scene::Eye::kRight, 8, 0, scene::PrismForm::kBar)};
  Scene loose = cover(s, 31, -3, -33);
  loose.prisms = {make_prism(scene::Eye::kLeft, 20, 0, scene::PrismForm::kLoose)};
  Scene both = cover(bar, -31, 0, -33);
  Scene up = s;
  up.prisms = {make_prism(scene::Eye::kLeft, 12, 90, scene::PrismForm::kBar)};
  Scene ghost = cover(s, 31, 0, -33);
  ghost.transparent_occluder = true;
  Scene rolled = cover(s, 20, 24, -45);
  rolled.occluder.roll_deg = 25;
  sheet.shots = {{0, cover(s, 31, 0, -33)},
                 {7, both},
                 {10, loose},
                 {0, cover(s, -31, 0, -33, true)},
                 {8, up},
                 {1, bar},
                 {0, ghost},
                 {0, rolled},
                 {6, cover(s, 0, 45, -60)},
                 {0, cover(s, 6, 30, -60, true)}};
  return sheet;
}

Scene wear(Scene s, double right_d, double left_d, double frame_mm = 62) {
  s.spectacles.worn = true;
  s.spectacles.frame_mm = frame_mm;
  for (const std::size_t side : {0U, 1U}) {
    scene::Lens& lens = s.spectacles.lenses[side];
    lens.power_xx_d = lens.power_yy_d = side == 0 ? right_d : left_d;
  }
  return s;
}

Sheet make_spectacle_sheet() {
  Sheet sheet{"spectacles", 2, 960, 540, {}};
  const Scene s = make_scene(130, sheet.width);
  Scene bifocal = wear(s, 1.5, 1.5);
  for (scene::Lens& lens : bifocal.spectacles.lenses) {
    lens.design = scene::LensDesign::kBifocal;
    lens.add_d = 2.5;
    lens.near_top_mm = -5;
  }
  Scene progressive = bifocal;
  for (scene::Lens& lens : progressive.spectacles.lenses) {
    lens.design = scene::LensDesign::kProgressive;
    lens.near_top_mm = -2;
  }
  Scene down = wear(s, -3, -3);
  down.head.chin_deg = -6;
  Scene turned = wear(s, 2, 2);
  turned.head = {0, -16, 2};
  Scene trial = s;
  trial.trial_lens_d = {3, -3};
  Scene prism = wear(s, -2, -2);
  prism.prisms = {make_prism(scene::Eye::kRight, 40, 180, scene::PrismForm::kLoose)};
  sheet.shots = {{0, wear(s, -6, -6)},
                 {7, wear(s, 6, 6)},
                 {3, bifocal},
                 {9, progressive},
                 {0, down},
                 {10, turned},
                 {4, trial},
                 {8, prism},
                 {5, wear(s, 3.5, 1, 50)},
                 {1, cover(wear(s, -1, -1), 31, 0, -45)}};
  return sheet;
}

/// The hand that holds the occluder, at places and scales of ordinary use.
Sheet make_hand_sheet() {
  Sheet sheet{"hand", 3, 860, 558, {}};
  Scene s = make_scene(120, sheet.width);
  s.view.centre_x_mm = -8;
  s.view.centre_y_mm = -5;
  Scene rolled = cover(s, 36, 4, -33);
  rolled.occluder.roll_deg = 20;
  Scene near = make_scene(75, sheet.width);
  near.view.centre_x_mm = 31;
  Scene wide = make_scene(200, sheet.width);
  Scene left = cover(s, 0, 12, -33);
  left.occluder.left_hand = true;
  Scene lifted = cover(wide, 31, 55, -33);
  Scene leaning = cover(s, 31, 0, -33);
  leaning.examiner_mm = {200, 0, -565};
  Scene dim = cover(s, -31, 0, -33, true);
  dim.light.room = 0.35;
  sheet.shots = {{0, cover(s, 31, 0, -33)},
                 {3, cover(s, -31, 0, -33)},
                 {7, cover(s, 0, 0, -33)},
                 {10, cover(s, 31, 30, -33)},
                 {1, cover(s, 31, 70, -33)},
                 {0, rolled},
                 {2, cover(near, 31, 0, -33)},
                 {4, cover(wide, 31, 0, -33)},
                 {0, leaning},
                 {0, dim},
                 {5, cover(s, 31, -30, -93)},
                 {6, cover(s, 60, -10, -33)},
                 {0, left},
                 {0, cover(s, 0, 12, -33)},
                 {8, lifted}};
  return sheet;
}

Sheet make_room_sheet() {
  Sheet sheet{"room", 2, 960, 486, {}};
  for (const std::size_t k : {0U, 7U, 3U, 13U, 1U, 11U}) {
    Scene s = make_scene(160, sheet.width);
    s.view.centre_y_mm = -10;
    if (k == 7) s.head.turn_deg = 14;
    if (k == 3) s.light.room = 0.45;
    sheet.shots.push_back({k, s});
  }
  return sheet;
}

void draw_sheet(const Sheet& sheet, const std::string& folder) {
  const gl::RenderTarget target(sheet.width, sheet.height, 1);
  const int rows = (static_cast<int>(sheet.shots.size()) + sheet.columns - 1) / sheet.columns;
  draw::Pixels all{sheet.columns * (sheet.width + 2), rows * (sheet.height + 2), {}};
  all.rgb.assign(static_cast<std::size_t>(all.width * all.height) * 3, 20);
  for (std::size_t k = 0; k < sheet.shots.size(); ++k) {
    const Shot& shot = sheet.shots[k];
    draw::PatientPicture picture(face::people()[shot.person].look);
    picture.draw(shot.scene, sheet.width, sheet.height, target.framebuffer());
    const draw::Pixels one = draw::read_pixels(target.framebuffer(), sheet.width, sheet.height);
    const int x0 = (static_cast<int>(k) % sheet.columns) * (sheet.width + 2);
    const int y0 = (static_cast<int>(k) / sheet.columns) * (sheet.height + 2);
    for (int y = 0; y < one.height; ++y) {
      const auto from = one.rgb.begin() + static_cast<std::ptrdiff_t>(y) * one.width * 3;
      std::copy(from, from + one.width * 3,
                all.rgb.begin() + (static_cast<std::ptrdiff_t>(y0 + y) * all.width + x0) * 3);
    }
  }
  const std::string path = folder + "/" + sheet.name + ".png";
  std::printf("%s%s\n", path.c_str(), draw::write_png(path, all) ? "" : ": cannot be written");
}

void time_frames(const char* what, int count, draw::PatientPicture& picture,
                 const gl::RenderTarget& target, const std::function<Scene(int)>& scene_at) {
  double worst = 0;
  double sum = 0;
  picture.draw(scene_at(0), 1280, 720, target.framebuffer());
  glFinish();
  const std::clock_t cpu = std::clock();  // of all threads: what other programs do does not count
  for (int k = 1; k <= count; ++k) {
    const auto start = std::chrono::steady_clock::now();
    picture.draw(scene_at(k), 1280, 720, target.framebuffer());
    glFinish();
    const double ms =
        std::chrono::duration<double, std::milli>(std::chrono::steady_clock::now() - start).count();
    worst = std::max(worst, ms);
    sum += ms;
  }
  const double used = 1000.0 * static_cast<double>(std::clock() - cpu) / CLOCKS_PER_SEC / count;
  std::printf("%-30s mean %6.1f ms  worst %6.1f ms  (%.0f/s)  processor %6.1f ms\n", what,
              sum / count, worst, 1000 * count / sum, used);
}

void time_all() {
  const gl::RenderTarget target(1280, 720, 1);
  const auto start = std::chrono::steady_clock::now();
  draw::PatientPicture picture(face::people()[0].look);
  glFinish();
  std::printf(
      "new person %.0f ms\n",
      std::chrono::duration<double, std::milli>(std::chrono::steady_clock::now() - start).count());
  const Scene s = make_scene(130, 1280);
  time_frames("at rest", 60, picture, target, [&](int) { return s; });
  time_frames("horizontal saccades", 60, picture, target,
              [&](int k) { return look(s, (k % 20) - 10.0, 0); });
  time_frames("vertical pursuit (lids follow)", 20, picture, target,
              [&](int k) { return look(s, 0, 0.5 * k - 5); });
  time_frames("blink", 20, picture, target,
              [&](int k) { return look(s, 0, 0, 0.5 + 0.5 * std::cos(k)); });
  time_frames("occluder moving", 40, picture, target,
              [&](int k) { return cover(s, 31, 20 - 0.5 * k, -33); });
  time_frames("translucent moving", 40, picture, target,
              [&](int k) { return cover(s, 31, 20 - 0.5 * k, -33, true); });
  time_frames("occluder and prism moving", 40, picture, target, [&](int k) {
    Scene both = cover(s, 31, 20 - 0.5 * k, -33);
    both.prisms = {make_prism(scene::Eye::kLeft, 8, 0, scene::PrismForm::kBar)};
    both.prisms[0].slide_mm = 0.4 * k;
    return both;
  });
  time_frames("spectacles, saccades", 40, picture, target,
              [&](int k) { return look(wear(s, -3, 2), (k % 20) - 10.0, 0); });
  for (const face::Quality quality : {face::Quality::kMedium, face::Quality::kLow}) {
    picture.set_quality(quality);
    for (int k = 0; k < 12; ++k) picture.draw(s, 1280, 720, target.framebuffer());
    std::printf(quality == face::Quality::kLow ? "low quality\n" : "medium quality\n");
    time_frames("vertical pursuit (lids follow)", 20, picture, target,
                [&](int k) { return look(s, 0, 0.5 * k - 5); });
    time_frames("blink", 40, picture, target,
                [&](int k) { return look(s, 0, 0, 0.5 + 0.5 * std::cos(k)); });
    time_frames("head", 20, picture, target, [&](int k) {
      Scene turned = s;
      turned.head.turn_deg = 0.2 * k;
      return turned;
    });
  }
  picture.set_quality(face::Quality::kHigh);
  time_frames("whole layer", 10, picture, target, [&](int) {
    picture.forget();
    return s;
  });
}

}  // namespace

int main(int argc, char** argv) {
  const std::string what = argc > 1 ? argv[1] : "people";
  const std::string folder = argc > 2 ? argv[2] : ".";
  try {
    const gl::OffscreenContext context;
    gl::DebugLog log;
    if (what == "time-layer") {
      const gl::RenderTarget target(1280, 720, 1);
      draw::PatientPicture picture(face::people()[0].look);
      const Scene s = make_scene(130, 1280);
      time_frames("layer", 12, picture, target, [&](int) {
        picture.forget();
        return s;
      });
    } else if (what == "time-blink") {
      const gl::RenderTarget target(1280, 720, 1);
      draw::PatientPicture picture(face::people()[0].look);
      const Scene s = make_scene(130, 1280);
      time_frames("blink", 60, picture, target,
                  [&](int k) { return look(s, 0, 0, 0.5 + 0.5 * std::cos(k)); });
    } else if (what == "moments") {
      const gl::RenderTarget target(1280, 720, 1);
      draw::PatientPicture picture(face::people()[0].look);
      picture.set_quality(face::Quality::kLow);
      for (const draw::Moments& each : draw::make_usual_moments(1280)) {
        if (argc > 2 && each.what != folder) continue;
        const draw::FrameTimes times = draw::time_moments(each, picture, target);
        std::printf("%-20s median %6.1f ms  worst %6.1f ms  processor %6.1f ms\n",
                    times.what.c_str(), times.median_ms, times.worst_ms, times.processor_ms);
      }
    } else if (what == "time") {
      time_all();
    } else {
      const Sheet sheets[] = {make_people_sheet(),    make_gaze_sheet(),       make_close_sheet(),
                              make_lid_sheet(),       make_instrument_sheet(), make_room_sheet(),
                              make_spectacle_sheet(), make_hand_sheet()};
      for (const Sheet& sheet : sheets) {
        if (sheet.name == what || what == "all") draw_sheet(sheet, folder);
      }
    }
    for (const std::string& m : log.check_messages()) std::fprintf(stderr, "%s\n", m.c_str());
  } catch (const std::exception& e) {
    std::fprintf(stderr, "%s\n", e.what());
    return 1;
  }
  return 0;
}
