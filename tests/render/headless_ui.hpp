// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Screens without a window and without a picture: events go in, what the screen answered comes out.
// A part is found by the words on it.
//
//   HeadlessUi ui({1440, 900, 1});
//   const auto draw = [&](Ui& u) { outcome.add(draw_cases(u, layout, model)); };
//   ui.frame(draw);
//   ui.click("Begin", draw);
#pragma once

#include <imgui.h>

#include <map>
#include <memory>
#include <stdexcept>
#include <string>
#include <string_view>

#include "render/screens/layout.hpp"
#include "render/screens/parts/ui.hpp"
#include "render/window/imgui_link.hpp"

namespace redress::test {

/// Fonts of one scale, made once: that is most of the time a test takes.
struct SharedFonts {
  ImFontAtlas atlas;
  screens::Fonts fonts;
};
inline SharedFonts& shared_fonts(float scale) {
  static std::map<float, std::unique_ptr<SharedFonts>> made;
  std::unique_ptr<SharedFonts>& one = made[scale];
  if (!one) {
    one = std::make_unique<SharedFonts>();
    one->fonts = screens::make_fonts(one->atlas, scale, screens::Letters::extended);
    unsigned char* pixels = nullptr;
    int width = 0;
    int height = 0;
    one->atlas.GetTexDataAsAlpha8(&pixels, &width, &height);
  }
  return *one;
}

class HeadlessUi {
 public:
  explicit HeadlessUi(screens::WindowSize size, screens::Theme theme = screens::Theme::light)
      : size_(size),
        link_(nullptr, &shared_fonts(size.scale).atlas),
        ui_(theme, shared_fonts(size.scale).fonts) {
    ui_.use(&probe_);
  }

  /// One frame; `draw` gets the Ui between begin_frame and end_frame.
  template <class Draw>
  void frame(const Draw& draw) {
    link_.begin_frame(size_.width_px, size_.height_px, frame_s_);
    ui_.begin_frame({size_.width(), size_.height()});
    draw(ui_);
    ui_.end_frame();
    link_.end_frame();
    now_ms_ += 1000 * frame_s_;
  }
  /// How long each frame takes from now on: a slow machine.
  void take_per_frame(double seconds) { frame_s_ = seconds; }
  /// Frames until every event was taken.
  template <class Draw>
  void settle(const Draw& draw) {
    do frame(draw);
    while (link_.has_more());
    frame(draw);
  }

  /// Presses and lets go in the middle of the part with this label or id, which must be there.
  template <class Draw>
  void click(std::string_view label, const Draw& draw) {
    frame(draw);
    const auto at = probe_.find_centre(label);
    if (!at) throw std::runtime_error("no part is labelled " + std::string{label});
    click(*at, draw);
  }
  template <class Draw>
  void click(screens::Point at, const Draw& draw) {
    move(at);
    settle(draw);
    button(at, true);
    button(at, false);
    settle(draw);
  }
  template <class Draw>
  void wheel(std::string_view label, double notches, const Draw& draw) {
    frame(draw);
    const auto at = probe_.find_centre(label);
    if (!at) throw std::runtime_error("no part is labelled " + std::string{label});
    move(*at);
    settle(draw);
    send(window::input::Wheel{notches, 0});
    settle(draw);
  }
  template <class Draw>
  void press(window::Key key, const Draw& draw, window::Modifiers modifiers = {}) {
    send(window::input::KeyChange{key, true, false}, modifiers);
    send(window::input::KeyChange{key, false, false}, {});
    settle(draw);
  }
  template <class Draw>
  void type(std::string_view text, const Draw& draw) {
    send(window::input::Text{std::string{text}});
    settle(draw);
  }
  void move(screens::Point at) {
    send(window::input::PointerMove{static_cast<double>(at.x * size_.scale),
                                    static_cast<double>(at.y * size_.scale)});
  }
  void button(screens::Point at, bool down) {
    send(window::input::PointerButton{window::MouseButton::left, down,
                                      static_cast<double>(at.x * size_.scale),
                                      static_cast<double>(at.y * size_.scale)});
  }
  /// With its own time, as it came.
  void take(const window::InputEvent& event) { link_.take(event); }
  [[nodiscard]] bool has_more() const { return link_.has_more(); }
  void send(window::InputContent content, window::Modifiers modifiers = {}) {
    link_.take({now_ms_, modifiers, std::move(content)});
  }

  [[nodiscard]] const screens::UiProbe& probe() const { return probe_; }
  [[nodiscard]] screens::Ui& ui() { return ui_; }
  [[nodiscard]] const screens::WindowSize& size() const { return size_; }
  /// Texts of the last frame that did not fit where they were put, for a message.
  [[nodiscard]] std::string misfits() const {
    std::string all;
    for (const screens::ProbedText& text : probe_.texts()) {
      if (text.fits) continue;
      all += "[" + text.region + "] \"" + text.text + "\" needs " + std::to_string(text.needed.w) +
             " x " + std::to_string(text.needed.h) + ", has " + std::to_string(text.given.w) +
             " x " + std::to_string(text.given.h) + "\n";
    }
    return all;
  }

 private:
  screens::WindowSize size_;
  window::ImguiLink link_;
  screens::UiProbe probe_;
  screens::Ui ui_;
  double now_ms_ = 0;
  double frame_s_ = 1.0 / 60;
};

/// No text over another in one region; empty, or what is.
inline std::string find_collisions(const screens::UiProbe& probe) {
  std::string found;
  const auto& texts = probe.texts();
  for (std::size_t i = 0; i < texts.size(); ++i) {
    for (std::size_t k = i + 1; k < texts.size(); ++k) {
      if (texts[i].region != texts[k].region) continue;
      if (texts[i].needed.inset(1, 2).overlaps(texts[k].needed.inset(1, 2))) {
        found += "\"" + texts[i].text + "\" and \"" + texts[k].text + "\"\n";
      }
    }
  }
  return found;
}

}  // namespace redress::test
