// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// One window with OpenGL 3.3, and what comes in through it. The only header of the window library
// that the rest of the program sees; it names no type of that library.
#pragma once

#include <functional>
#include <memory>
#include <stdexcept>
#include <string>
#include <vector>

#include "render/window/input.hpp"

namespace redress::window {

/// No display, no OpenGL 3.3, no window of that size; the text is for the user.
class Error : public std::runtime_error {
 public:
  using std::runtime_error::runtime_error;
};

struct WindowOptions {
  std::string title = "Redress";
  int width = 1440;  ///< 1 ... 16384
  int height = 900;
  bool wait_for_screen = true;  ///< a frame waits for the screen's refresh (off in tests)
  bool hidden = false;
};

/// What identifies the screen that a calibration belongs to.
struct Screen {
  std::string name;
  int width_px = 0;
  int height_px = 0;
  bool operator==(const Screen&) const = default;
};

class Window {
 public:
  /// Throws Error.
  explicit Window(const WindowOptions& options);
  ~Window();
  Window(const Window&) = delete;
  Window& operator=(const Window&) = delete;

  /// Milliseconds since the window system was started; the clock of InputEvent::at_ms.
  [[nodiscard]] double now_ms() const;
  /// Appends what came in. Waits until something comes, but at most so long (0: does not wait).
  void take_events(std::vector<InputEvent>& events, double wait_ms);
  /// Shows what was drawn, once the frame before it is finished: no driver may heap up frames, each
  /// of which would show the pointer a little later.
  void show();

  /// The driver gave the context up (reset, another graphics card, a screen taken away): nothing
  /// that was made in it is there any more. Its objects can still be let go.
  [[nodiscard]] bool graphics_are_lost() const;
  /// A fresh context in place of the old one, of which nothing may be held any more. Throws Error.
  void renew_graphics();
  /// As if the driver had given the context up (tests).
  void lose_graphics();

  /// From now on controllers are found. Not before the first frame: it takes a while.
  void look_for_controllers();

  [[nodiscard]] int width_px() const;  ///< of what is drawn into
  [[nodiscard]] int height_px() const;
  /// Of the screen that the window is on: pixels for each point of the window system, 1 ... 4.
  [[nodiscard]] double pixels_per_point() const;
  [[nodiscard]] bool is_shown() const;  ///< neither minimised nor hidden
  [[nodiscard]] Screen screen() const;
  /// Of the screen; 60 if it does not say.
  [[nodiscard]] double refresh_hz() const;
  [[nodiscard]] bool waits_for_screen() const;
  void set_title(const std::string& title);
  void show_pointer(bool shown);
  /// The letter printed on this keyboard's key, for captions ("A", "Q" ...).
  [[nodiscard]] std::string letter_of(Key key) const;
  [[nodiscard]] std::string clipboard() const;
  void set_clipboard(const std::string& text);

 private:
  struct Parts;
  std::unique_ptr<Parts> parts_;
};

}  // namespace redress::window
