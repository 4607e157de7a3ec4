// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// From the pointer to the picture: what came before a frame is in that frame. The screens' design
// allows one frame of delay; the hand itself takes its time (a critically damped follower, 45 ms),
// so the plate in the picture is held against that hand at the frame's own time.
#include <cmath>
#include <fstream>
#include <string>
#include <vector>

#include <catch2/catch.hpp>

#include "render/app/frame_clock.hpp"
#include "render/app/room_scene.hpp"
#include "tests/render/program_run.hpp"
#include "tests/render/room_on_screen.hpp"
#include "tests/render/screen_pixels.hpp"
#include "tests/support/temporary_folder.hpp"

using namespace redress;
using namespace redress::test;
using redress::screens::WindowSize;
using redress::tests::TemporaryFolder;
namespace ex = redress::screens::examine;
namespace in = redress::window::input;

namespace {

constexpr WindowSize kWindow{1440, 900, 1};
constexpr double kDown = 348;  // of the pointer, pixels: at the height of the eyes
/// Ten frames a second to more than a hundred, one of them out of step with everything.
constexpr double kRates[] = {100, 1000.0 / 30, 1000.0 / 60, 37, 1000.0 / 144};

/// A room whose pointer moves, and where the plate is in each picture.
class Desk {
 public:
  explicit Desk(double frame_ms) : on_(kWindow, frame_ms), frame_ms_(frame_ms) {
    // As the room's own: from 0, and with the 200 ms that the room has run.
    clock_.advance(0);
    clock_.advance(on_.now_ms());
  }

  void move(double ms, double x_px) { on_.at(ms, in::PointerMove{x_px, kDown}); }
  void press(double ms, double x_px) {
    move(ms, x_px);
    on_.at(ms, in::PointerButton{window::MouseButton::left, true, x_px, kDown});
  }
  /// Pixels from the left, of the plate's centre in the next frame's picture.
  double frame() {
    on_.frame();
    const double share = clock_.advance(on_.now_ms()).share;
    const scene::Scene scene = app::make_room_scene(on_.room.session(), 1020, 704, share);
    return to_px(scene.occluder.centre_mm.x);
  }
  double run_until(double ms) {
    double last = 0;
    while (now() + frame_ms_ <= ms) last = frame();
    return last;
  }
  [[nodiscard]] double now() const { return on_.now_ms(); }
  [[nodiscard]] double frame_ms() const { return frame_ms_; }
  /// Where the hand is now, whatever was told or drawn.
  [[nodiscard]] double hand() const { return to_px(on_.room.session().hand().pose().x_mm); }

 private:
  /// In the plane of the plate; the scale is that of the pupils, which is near enough.
  [[nodiscard]] double to_px(double x_mm) const {
    const ex::ShownView view = on_.room.session().view();
    return view.centre_x_px - (x_mm - view.x_mm) * view.pixels_per_mm;
  }

  RoomOnScreen on_;
  app::FrameClock clock_;
  double frame_ms_;
};

}  // namespace

TEST_CASE("ready, the plate is under the pointer in the very frame that the pointer came before") {
  for (const double frame_ms : kRates) {
    INFO(frame_ms << " ms a frame");
    Desk desk(frame_ms);
    desk.move(300, 700);
    const double before = desk.run_until(1000);
    // A sample right before the frame is drawn, and one right after the frame before.
    for (const double early : {0.0, 0.95}) {
      const double x = early > 0 ? 520 : 640;
      desk.move(desk.now() + frame_ms * (1 - early), x);
      const double now = desk.frame();
      CHECK(std::abs(now - before) > 40);
      const double then = desk.frame();
      CHECK(now == then);
    }
  }
}

TEST_CASE("held, a sample from the last frame's time is seen in this frame") {
  for (const double frame_ms : kRates) {
    INFO(frame_ms << " ms a frame");
    Desk desk(frame_ms);
    desk.press(300, 420);
    double before = desk.run_until(2000);
    CHECK(desk.frame() == Approx(before).margin(0.01));  // at rest
    before = desk.frame();
    // 12 mm to the right, at the beginning of the frame.
    desk.move(desk.now() + 0.05, 520);
    const double now = desk.frame();
    // The hand alone, a part (1 + t/T) exp(-t/T) short of the pointer, and no more than an arm can.
    const double t = frame_ms - 8;  // an act is told each 8 ms
    if (t <= 0) continue;
    const double follows = 1 - (1 + t / 45) * std::exp(-t / 45);
    const double arm = 0.5 * 0.015 * t * t * 8.5;
    CHECK(now - before > 0.8 * std::min(100 * follows, arm));
  }
}

TEST_CASE("held and moving, the plate in the picture is where the hand is at the frame's time") {
  for (const double frame_ms : kRates) {
    INFO(frame_ms << " ms a frame");
    Desk desk(frame_ms);
    desk.press(300, 300);
    desk.run_until(1500);
    // A mouse that tells its place each 4 ms, at 300 mm/s.
    constexpr double kPixelsPerMs = 0.3 * 8.5;
    const double start = desk.now();
    for (double ms = 4; ms < 320; ms += 4) desk.move(start + ms, 300 + kPixelsPerMs * ms);
    int frames = 0;
    double last = 0;
    while (desk.now() + frame_ms < start + 320) {
      const double seen = desk.frame();
      // When it moves as fast as the pointer: what is left of a frame's delay would be all of it.
      if (desk.now() > start + 200) {
        const double late_ms = (desk.hand() - seen) / kPixelsPerMs;
        INFO("late by " << late_ms << " ms at " << desk.now());
        CHECK(std::abs(late_ms) < 3);
        CHECK(seen > last);
        ++frames;
      }
      last = seen;
    }
    CHECK(frames >= 1);
  }
}

TEST_CASE("in the window, the picture of a frame has what came before it", "[window]") {
  const TemporaryFolder own;
  const auto shot = [&](const std::string& name) { return own.path() + "/" + name + ".png"; };
  // 20 ms a frame: the plate is held still, then the pointer goes 100 pixels to the left, 1 ms
  // after one frame and 19 ms before the next.
  std::ofstream(own.path() + "/script.txt")
      << "900 move 700 348\n1200 press left\n1900 shot " << shot("held")
      << "\n1901 move 600 348\n1920 shot " << shot("moved") << "\n1940 shot " << shot("later")
      << "\n";
  const Answer answer =
      run_program(kOffscreen, "--own-folder " + own.path() + " --case " +
                                  support::scenario_path("right_esotropia") +
                                  " --width 1440 --height 900 --seed 4 --step-ms 20 --script " +
                                  own.path() + "/script.txt");
  INFO(answer.said);
  REQUIRE(answer.code == 0);
  // The left edge of the plate, dark before a fair skin, at the height of the eyes.
  const auto find_edge = [&](const std::string& name) {
    const auto picture = read_png(shot(name));
    REQUIRE(picture);
    constexpr int kWithin = 560;  // of the plate, in all three pictures
    constexpr int kDark = 300;    // of three bytes
    int x = kWithin;
    const auto light = [&](int at) {
      const Colour c = picture->at(at, 348);
      return c[0] + c[1] + c[2];
    };
    REQUIRE(light(x) < kDark);
    while (x > 300 && light(x) < kDark) --x;
    return x;
  };
  const int held = find_edge("held");
  const int moved = find_edge("moved");
  const int later = find_edge("later");
  INFO("edges at " << held << ", " << moved << ", " << later);
  CHECK(held > 440);
  CHECK(moved <= held - 3);
  CHECK(later <= moved - 6);
}
