// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Dear ImGui's context and what it is told: the same events, in the same order, as everything else.
// Events that would cancel each other within one frame (press and release, two presses of a key)
// are kept for the next, so that a click between two slow frames is a click. Without a window or a
// picture it serves the tests.
#pragma once

#include <deque>

#include "render/window/input.hpp"

struct ImFontAtlas;
struct ImGuiContext;

namespace redress::window {

class Window;

class ImguiLink {
 public:
  /// Makes a context; `window` null: no clipboard and nothing is drawn (tests). `fonts` null: an
  /// atlas of its own.
  explicit ImguiLink(Window* window, ImFontAtlas* fonts = nullptr);
  ~ImguiLink();
  ImguiLink(const ImguiLink&) = delete;
  ImguiLink& operator=(const ImguiLink&) = delete;

  void take(const InputEvent& event) { waiting_.push_back(event); }
  /// Events are left over for another frame.
  [[nodiscard]] bool has_more() const { return !waiting_.empty(); }
  /// After this, draw; `seconds` since the last.
  void begin_frame(int width_px, int height_px, double seconds);
  /// Into framebuffer 0; with a window only.
  void end_frame_and_draw();
  /// Lets go of everything in the context; the next frame makes it anew, from an atlas that must
  /// have been filled again.
  void forget_graphics();
  /// Without a window: only closes the frame.
  void end_frame();

 private:
  bool apply(const InputEvent& event);

  ImGuiContext* context_ = nullptr;
  Window* window_ = nullptr;
  bool drawing_ = false;
  std::deque<InputEvent> waiting_;
  // What changed in this frame already.
  unsigned buttons_changed_ = 0;
  bool key_changed_[512] = {};
  bool any_key_changed_ = false;
};

}  // namespace redress::window
