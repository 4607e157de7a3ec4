// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Window, fonts, Ui and the rhythm of frames: what every screen stands in. In tests it runs on a
// clock of its own, plays a script and writes pictures.
#pragma once

#include <imgui.h>

#include <cstdint>
#include <fstream>
#include <future>
#include <memory>
#include <optional>
#include <random>
#include <string>
#include <vector>

#include "render/app/event_turns.hpp"
#include "render/app/led_clock.hpp"
#include "render/app/process_figures.hpp"
#include "render/app/script.hpp"
#include "render/gl/stamps.hpp"
#include "render/screens/layout.hpp"
#include "render/screens/parts/probe.hpp"
#include "render/screens/parts/ui.hpp"
#include "render/window/imgui_link.hpp"
#include "render/window/window.hpp"

namespace redress::app {

struct ShellOptions {
  int width = 1440;
  int height = 900;
  float scale = 1;         ///< to begin with; see Shell::set_scale
  std::string screenshot;  ///< PNG of the last frame; empty: none
  int frames = 0;          ///< draw so many, then leave; 0: until the user leaves
  std::vector<ScriptStep> script;
  double step_ms = 0;        ///< above 0: each frame takes so long on the shell's own clock
  std::uint32_t jitter = 0;  ///< above 0: seed of frames between 0.2 and 1.8 steps long
  bool timings = false;      ///< figures on standard error at the end
  std::string parts_path;    ///< where each frame's parts are told, see parts_file.hpp; empty: no
  std::string led_path;      ///< who leads the time, see led_clock.hpp; empty: nobody
};

class Shell {
 public:
  explicit Shell(const ShellOptions& options);

  /// Waits for the time of the next frame and collects what came in. False: nothing came, nothing
  /// is to be drawn (only if not `live`). `live`: something moves by itself.
  bool wait_for_frame(bool live);
  [[nodiscard]] const std::vector<window::InputEvent>& events() const { return events_; }
  /// From `count` on they wait for the next frame: see event_turns.hpp. Before begin_ui().
  void put_back(std::size_t count) { turns_.put_back(events_, count); }
  [[nodiscard]] double now_ms() const { return now_ms_; }
  /// A frame or two more are to be drawn though nothing comes in.
  void draw_again() { frames_wanted_ = 3; }
  /// Leave at the end of this frame.
  void leave() { leaving_ = true; }
  [[nodiscard]] bool leaving() const { return leaving_; }
  [[nodiscard]] bool close_asked() const { return close_asked_; }

  /// Of texts, 1 ... 2, times the pixels of a point of the screen that the window is on; made
  /// smaller if the window has no room for it.
  void set_scale(float scale);
  /// The same before the next frame: fonts cannot change in the middle of one.
  void set_scale_later(float scale) { wanted_scale_ = scale; }
  /// The largest of the usual scales that this window has room for.
  [[nodiscard]] float find_largest_scale() const;
  [[nodiscard]] screens::WindowSize size() const;
  /// What set_scale() asked for, whatever screen the window is on.
  [[nodiscard]] float text_scale() const { return wanted_scale_; }

  /// Fills everything with one colour; then draw, then begin_ui().
  void clear(screens::Theme theme, screens::Token ground);
  [[nodiscard]] int frames_shown() const { return frames_shown_; }
  screens::Ui& begin_ui(screens::Theme theme);
  void end_ui();
  /// Shows the frame, takes pictures.
  void show();

  /// The driver gave the context up. First everything in it is let go, then this; what was on the
  /// screen can be drawn again with the next frame. Throws window::Error.
  [[nodiscard]] bool graphics_are_lost() const { return window_.graphics_are_lost(); }
  void renew_graphics();

  /// Lids move in this frame: such frames are told by themselves.
  void mark_blink() { blinks_ = true; }

  [[nodiscard]] window::Window& window() { return window_; }
  [[nodiscard]] screens::Ui& ui() { return *ui_; }
  [[nodiscard]] const std::string& font_trouble() const { return fonts_.trouble; }
  /// Whether a clock of its own is used (tests).
  [[nodiscard]] bool is_played() const { return options_.step_ms > 0; }
  void report_timings() const;
  /// A picture was asked for: it shall not depend on how fast the machine is.
  [[nodiscard]] bool wants_picture() const { return wants_picture_; }

 private:
  void play(double until_ms);
  /// Events have the time at which it stands; it goes on when all of them had their turn.
  void follow_leader();
  [[nodiscard]] bool has_more_events() const;
  void take_picture(const std::string& path);
  void tell_parts();
  [[nodiscard]] float calc_usable_scale(float wanted) const;
  [[nodiscard]] float pixels_per_point() const;

  ShellOptions options_;
  // Fonts are made on another thread while the window opens.
  std::unique_ptr<ImFontAtlas> atlas_;
  std::future<screens::Fonts> making_fonts_;
  window::Window window_;
  screens::Fonts fonts_;
  window::ImguiLink link_;
  float wanted_scale_ = 1;
  std::optional<float> played_ratio_;  // pixels a point, as a script has it
  std::optional<screens::Ui> ui_;
  screens::UiProbe probe_;
  EventTurns turns_;
  std::optional<LedClock> led_;
  std::vector<window::InputEvent> came_;    // since the last frame
  std::vector<window::InputEvent> events_;  // that have their turn in this one
  double now_ms_ = 0;
  double last_frame_ms_ = 0;
  double next_frame_ms_ = 0;
  int frames_wanted_ = 3;
  int frames_shown_ = 0;
  bool wants_picture_ = false;
  bool leaving_ = false;
  bool close_asked_ = false;

  std::size_t script_at_ = 0;
  std::vector<std::string> shots_;
  std::ofstream parts_;
  std::string parts_told_;
  double parts_told_ms_ = -1;
  int keys_taken_ = 0;     // let go again, Shift and its like left out
  int buttons_taken_ = 0;  // the same
  std::minstd_rand chance_;

  double began_ms_ = 0;
  ProcessFigures first_frame_;
  /// The work of one frame, without waiting.
  struct FrameWork {
    double clock_ms = 0;
    double processor_ms = 0;  // of all threads: does not depend on who else uses the machine
    double graphics_ms = 0;   // by the clock of the graphics card
    double interface_ms = 0;  // of that, clearing and the interface alone
    bool blinks = false;
  };
  std::vector<FrameWork> frames_;
  /// Frame begun, cleared, patient drawn, interface drawn. Only for timings.
  std::optional<gl::Stamps<4>> stamps_;
  double work_began_ms_ = 0;
  double processor_began_ms_ = 0;
  bool blinks_ = false;
};

}  // namespace redress::app
