// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/window/window.hpp"

#include <SDL.h>

#include <algorithm>
#include <clocale>
#include <cstdlib>
#include <map>
#include <utility>

#include "render/gl/api.hpp"
#include "render/window/event_reader.hpp"
#include "render/window/lost_buttons.hpp"

namespace redress::window {

namespace {

constexpr int kLargest = 16384;  // what drivers of OpenGL 3.3 take, 16384 since about 2010

// Names of what this keyboard prints only as a word.
std::string shorten(std::string name) {
  static const std::map<std::string, std::string> kShort{
      {"Keypad 0", "0"}, {"Return", "Enter"}, {"PageUp", "Page Up"}, {"PageDown", "Page Down"}};
  const auto found = kShort.find(name);
  return found == kShort.end() ? std::move(name) : found->second;
}

[[noreturn]] void fail(const std::string& what) {
  const std::string reason = SDL_GetError();
  SDL_Quit();
  throw Error(reason.empty() ? what : what + " (" + reason + ")");
}

}  // namespace

namespace {

ButtonsDown to_buttons(Uint32 mask) {
  return {(mask & SDL_BUTTON_LMASK) != 0, (mask & SDL_BUTTON_RMASK) != 0,
          (mask & SDL_BUTTON_MMASK) != 0};
}

}  // namespace

struct Window::Parts {
  SDL_Window* window = nullptr;
  SDL_GLContext context = nullptr;
  std::vector<SDL_GameController*> pads;
  bool graphics_lost = false;
  Uint64 counter_at_start = 0;
  double ticks_at_start = 0;
  GLsync last_frame = nullptr;
  bool waits = false;
  LostButtons lost_buttons;

  ~Parts() {
    if (last_frame != nullptr) glDeleteSync(last_frame);
    for (SDL_GameController* pad : pads) SDL_GameControllerClose(pad);
    if (context != nullptr) SDL_GL_DeleteContext(context);
    if (window != nullptr) SDL_DestroyWindow(window);
    SDL_Quit();
  }
  Parts() = default;
  Parts(const Parts&) = delete;
  Parts& operator=(const Parts&) = delete;

  /// Told of a reset where the driver can tell; null: no OpenGL 3.3.
  [[nodiscard]] SDL_GLContext make_context() const {
    SDL_GL_SetAttribute(SDL_GL_CONTEXT_RESET_NOTIFICATION, SDL_GL_CONTEXT_RESET_LOSE_CONTEXT);
    if (SDL_GLContext told = SDL_GL_CreateContext(window)) return told;
    SDL_GL_SetAttribute(SDL_GL_CONTEXT_RESET_NOTIFICATION, SDL_GL_CONTEXT_RESET_NO_NOTIFICATION);
    SDL_ClearError();
    return SDL_GL_CreateContext(window);
  }

  void set_waiting(bool wait) {
    waits = wait && SDL_GL_SetSwapInterval(1) == 0;
    if (!wait) SDL_GL_SetSwapInterval(0);
  }

  void follow_pads(const SDL_Event& event) {
    if (event.type == SDL_CONTROLLERDEVICEADDED) {
      if (SDL_GameController* pad = SDL_GameControllerOpen(event.cdevice.which)) {
        pads.push_back(pad);
      }
    }
    if (event.type == SDL_CONTROLLERDEVICEREMOVED) {
      SDL_GameController* const gone = SDL_GameControllerFromInstanceID(event.cdevice.which);
      const auto found = std::find(pads.begin(), pads.end(), gone);
      if (found == pads.end()) return;
      SDL_GameControllerClose(*found);
      pads.erase(found);
    }
  }
  /// The pointer of the whole display is asked, and only while a button is lost.
  void follow_lost_buttons(std::vector<InputEvent>& events, double scale) {
    if (!lost_buttons.any()) return;
    int x = 0;
    int y = 0;
    const ButtonsDown believed = to_buttons(SDL_GetMouseState(nullptr, nullptr));
    const ButtonsDown real = to_buttons(SDL_GetGlobalMouseState(&x, &y));
    int left = 0;
    int top = 0;
    SDL_GetWindowPosition(window, &left, &top);
    for (const LostButtons::Change& change : lost_buttons.follow(believed, real)) {
      // A press before another window is not ours.
      if (change.down && SDL_GetMouseFocus() != window) continue;
      events.push_back({static_cast<double>(SDL_GetTicks64()),
                        {},
                        input::PointerButton{change.button, change.down, (x - left) * scale,
                                             (y - top) * scale}});
    }
  }
  [[nodiscard]] double pixels_per_point() const {
    int points = 0;
    int pixels = 0;
    SDL_GetWindowSize(window, &points, nullptr);
    SDL_GL_GetDrawableSize(window, &pixels, nullptr);
    return points > 0 && pixels > 0 ? static_cast<double>(pixels) / points : 1.0;
  }
};

Window::Window(const WindowOptions& options) {
  if (options.width < 1 || options.height < 1 || options.width > kLargest ||
      options.height > kLargest) {
    throw Error("a window of " + std::to_string(options.width) + " x " +
                std::to_string(options.height) + " pixels cannot be made; allowed: 1 to " +
                std::to_string(kLargest) + " each way");
  }
  SDL_SetMainReady();
  SDL_SetHint(SDL_HINT_VIDEO_X11_NET_WM_BYPASS_COMPOSITOR, "0");
  SDL_SetHint(SDL_HINT_MOUSE_FOCUS_CLICKTHROUGH, "1");
  // Of letters alone, never of numbers: X11 takes a title with a dash or an accent in it only where
  // letters are UTF-8, and keeps the old title without a word where they are not.
  (void)std::setlocale(LC_CTYPE, "C.UTF-8");
  if (SDL_Init(SDL_INIT_VIDEO) != 0) fail("there is no display to open a window on");
  // Without a display the library may settle for one that nobody can see.
  const std::string driver = SDL_GetCurrentVideoDriver();
  if (std::getenv("SDL_VIDEODRIVER") == nullptr && (driver == "offscreen" || driver == "dummy")) {
    SDL_ClearError();
    fail("there is no display to open a window on");
  }
  SDL_GL_SetAttribute(SDL_GL_CONTEXT_MAJOR_VERSION, 3);
  SDL_GL_SetAttribute(SDL_GL_CONTEXT_MINOR_VERSION, 3);
  SDL_GL_SetAttribute(SDL_GL_CONTEXT_PROFILE_MASK, SDL_GL_CONTEXT_PROFILE_CORE);
  SDL_GL_SetAttribute(SDL_GL_CONTEXT_FLAGS, SDL_GL_CONTEXT_FORWARD_COMPATIBLE_FLAG);
  SDL_GL_SetAttribute(SDL_GL_DOUBLEBUFFER, 1);
  SDL_GL_SetAttribute(SDL_GL_DEPTH_SIZE, 0);
  SDL_GL_SetAttribute(SDL_GL_STENCIL_SIZE, 0);
  auto flags = static_cast<Uint32>(SDL_WINDOW_OPENGL) | static_cast<Uint32>(SDL_WINDOW_RESIZABLE) |
               static_cast<Uint32>(SDL_WINDOW_ALLOW_HIGHDPI);
  if (options.hidden) flags |= static_cast<Uint32>(SDL_WINDOW_HIDDEN);
  parts_ = std::make_unique<Parts>();
  parts_->window = SDL_CreateWindow(options.title.c_str(), SDL_WINDOWPOS_CENTERED,
                                    SDL_WINDOWPOS_CENTERED, options.width, options.height, flags);
  if (parts_->window == nullptr) fail("no window with OpenGL can be opened here");
  parts_->context = parts_->make_context();
  if (parts_->context == nullptr) fail("this machine has no OpenGL 3.3");
  try {
    gl::load_functions(reinterpret_cast<gl::ProcAddress>(&SDL_GL_GetProcAddress));
  } catch (const gl::Error& error) {
    throw Error(error.what());
  }
  SDL_SetWindowMinimumSize(parts_->window, 480, 320);
  parts_->set_waiting(options.wait_for_screen);
  parts_->counter_at_start = SDL_GetPerformanceCounter();
  parts_->ticks_at_start = static_cast<double>(SDL_GetTicks64());
  // Letters are always told, so that what is typed while a field is on its way is not lost.
  SDL_StartTextInput();
}

void Window::look_for_controllers() {
  if (SDL_WasInit(SDL_INIT_GAMECONTROLLER) != 0) return;
  // A machine without controllers, or that forbids them, is no reason to stop.
  if (SDL_InitSubSystem(SDL_INIT_GAMECONTROLLER) != 0) SDL_ClearError();
}

Window::~Window() = default;

double Window::now_ms() const {
  const auto counts = static_cast<double>(SDL_GetPerformanceCounter() - parts_->counter_at_start);
  return parts_->ticks_at_start +
         1000.0 * counts / static_cast<double>(SDL_GetPerformanceFrequency());
}

void Window::take_events(std::vector<InputEvent>& events, double wait_ms) {
  SDL_Event event;
  const double scale = parts_->pixels_per_point();
  const auto take = [&] {
    parts_->follow_pads(event);
    if (auto input = to_input_event(event, scale)) events.push_back(std::move(*input));
    if (event.type == SDL_WINDOWEVENT && event.window.event == SDL_WINDOWEVENT_FOCUS_LOST) {
      parts_->lost_buttons.lose(to_buttons(SDL_GetMouseState(nullptr, nullptr)));
    }
  };
  parts_->follow_lost_buttons(events, scale);
  if (wait_ms >= 1 && SDL_WaitEventTimeout(&event, static_cast<int>(wait_ms)) == 1) take();
  while (SDL_PollEvent(&event) == 1) take();
}

void Window::show() {
  if (parts_->last_frame != nullptr) {
    constexpr GLuint64 kLongestNs = 1'000'000'000;
    glClientWaitSync(parts_->last_frame, GL_SYNC_FLUSH_COMMANDS_BIT, kLongestNs);
    glDeleteSync(parts_->last_frame);
  }
  SDL_GL_SwapWindow(parts_->window);
  parts_->last_frame = glFenceSync(GL_SYNC_GPU_COMMANDS_COMPLETE, 0);
}

bool Window::graphics_are_lost() const {
  return parts_->graphics_lost || SDL_GL_GetCurrentContext() != parts_->context ||
         gl::is_context_lost();
}

void Window::lose_graphics() { parts_->graphics_lost = true; }

void Window::renew_graphics() {
  Parts& p = *parts_;
  const bool wait = p.waits;
  if (p.last_frame != nullptr) glDeleteSync(p.last_frame);
  p.last_frame = nullptr;
  SDL_GL_DeleteContext(p.context);
  p.context = p.make_context();
  if (p.context == nullptr) fail("the graphics driver stopped and does not start again");
  try {
    gl::load_functions(reinterpret_cast<gl::ProcAddress>(&SDL_GL_GetProcAddress));
  } catch (const gl::Error& error) {
    throw Error(error.what());
  }
  p.set_waiting(wait);
  p.graphics_lost = false;
}

double Window::pixels_per_point() const {
  constexpr double kMost = 4;
  return std::clamp(parts_->pixels_per_point(), 1.0, kMost);
}

int Window::width_px() const {
  int width = 0;
  SDL_GL_GetDrawableSize(parts_->window, &width, nullptr);
  return width;
}

int Window::height_px() const {
  int height = 0;
  SDL_GL_GetDrawableSize(parts_->window, nullptr, &height);
  return height;
}

bool Window::is_shown() const {
  constexpr auto kGone =
      static_cast<Uint32>(SDL_WINDOW_MINIMIZED) | static_cast<Uint32>(SDL_WINDOW_HIDDEN);
  return (SDL_GetWindowFlags(parts_->window) & kGone) == 0 && width_px() > 0 && height_px() > 0;
}

Screen Window::screen() const {
  Screen screen;
  const int index = std::max(0, SDL_GetWindowDisplayIndex(parts_->window));
  if (const char* name = SDL_GetDisplayName(index)) screen.name = name;
  SDL_DisplayMode mode;
  if (SDL_GetDesktopDisplayMode(index, &mode) == 0) {
    screen.width_px = mode.w;
    screen.height_px = mode.h;
  }
  return screen;
}

double Window::refresh_hz() const {
  SDL_DisplayMode mode;
  const int index = std::max(0, SDL_GetWindowDisplayIndex(parts_->window));
  if (SDL_GetCurrentDisplayMode(index, &mode) != 0 || mode.refresh_rate <= 0) return 60;
  return mode.refresh_rate;
}

bool Window::waits_for_screen() const { return parts_->waits; }

void Window::set_title(const std::string& title) {
  SDL_SetWindowTitle(parts_->window, title.c_str());
}

void Window::show_pointer(bool shown) { SDL_ShowCursor(shown ? SDL_ENABLE : SDL_DISABLE); }

std::string Window::letter_of(Key key) const {
  const SDL_Keycode code = SDL_GetKeyFromScancode(static_cast<SDL_Scancode>(key));
  return shorten(SDL_GetKeyName(code));
}

std::string Window::clipboard() const {
  char* const text = SDL_GetClipboardText();
  std::string copy = text == nullptr ? "" : text;
  SDL_free(text);
  return copy;
}

void Window::set_clipboard(const std::string& text) { SDL_SetClipboardText(text.c_str()); }

}  // namespace redress::window
