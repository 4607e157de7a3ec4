// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// A case, an examination made by hand as a list of inputs with their times, and frames that deliver
// them: what several tests of the examination screen share.
#pragma once

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <functional>
#include <memory>
#include <sstream>
#include <streambuf>
#include <string>
#include <vector>

#include <catch2/catch.hpp>

#include "render/screens/examine/session.hpp"
#include "sim/cases/case_file.hpp"

namespace redress::tests {

namespace examine = redress::screens::examine;
using examine::Input;
using examine::Session;

inline nlohmann::json case_json() {
  return {{"format", "redress-case"},
          {"version", 1},
          {"title", "by hand"},
          {"deviation", {{"distance_pd", -6}, {"near_pd", -9}}}};
}

/// What was written, readable after the session is gone.
struct SharedStream : std::ostream {
  explicit SharedStream(std::shared_ptr<std::stringbuf> buffer)
      : std::ostream(buffer.get()), buffer_(std::move(buffer)) {}
  std::shared_ptr<std::stringbuf> buffer_;
};

/// Pixels of the view's frame that show a place on the face, mm (+x to the patient's right).
inline examine::PointerMoved pixel_of(double x_mm, double y_mm) {
  const examine::ViewFrame frame;
  return {frame.eyes_x_px - x_mm * frame.pixels_per_mm,
          frame.eyes_y_px - y_mm * frame.pixels_per_mm};
}

struct Script {
  std::vector<Input> inputs;
  void at(Tick t, examine::InputContent content) { inputs.push_back({t, std::move(content)}); }
  /// A pointer's way, a sample every 7 ms.
  void slide(Tick from, Tick to, double x0, double y0, double x1, double y1) {
    for (Tick t = from; t <= to; t += 7) {
      const double share = static_cast<double>(t - from) / static_cast<double>(to - from);
      at(t, pixel_of(x0 + (x1 - x0) * share, y0 + (y1 - y0) * share));
    }
  }
  void key(Tick t, examine::Scancode code, examine::Modifiers modifiers = {}) {
    at(t, examine::KeyPressed{code, modifiers, false});
  }
};

/// Cover-uncover and a transfer by mouse, alternating by keys, a prism, a question, lean and view.
inline Script make_script() {
  using examine::Button;
  using examine::hid::letter;
  Script s;
  s.slide(40, 400, -20, -60, 31, -1);
  s.at(411, examine::PointerPressed{Button::left});
  s.slide(1903, 2250, 31, -1, -31, 2);
  s.at(2600, examine::PointerWheel{2, false});
  s.at(2733, examine::PointerWheel{-1, true});
  s.slide(3301, 3420, -31, 2, -29, 38);
  s.at(3422, examine::PointerReleased{Button::left});
  s.key(4510, letter('A'));
  s.key(5777, examine::hid::kSpace);
  s.key(7003, examine::hid::kSpace, {.shift = true});
  s.key(7290, examine::hid::kSpace);  // cuts the slow one short
  s.key(7801, letter('F'));
  s.key(7901, letter('E'));
  s.key(7950, letter('E'));
  s.key(8600, examine::hid::kSpace);
  s.key(9100, letter('X'));
  s.key(9250, examine::hid::kDigit1 + 5);
  s.key(9800, letter('W'));
  s.key(10300, examine::hid::kRight, {.control = true});
  s.key(10700, letter('Z'));
  s.at(11010, pixel_of(10, -10));
  s.at(11020, examine::PointerPressed{Button::left});
  s.at(11500, examine::PointerPressed{Button::right});
  s.at(11600, examine::PointerReleased{Button::left});
  s.key(11999, examine::hid::kF1 + 4);
  return s;
}

inline constexpr Tick kScriptEnd = 13000;

/// Runs the script as a window does that draws a frame whenever `next_frame` says, in ms.
inline std::string record_of(const Script& script, const std::function<double(double)>& next_frame,
                             double noise = 1.0) {
  const auto parsed = parse_case(case_json());
  REQUIRE(parsed.ok());
  auto buffer = std::make_shared<std::stringbuf>();
  Session session(parsed.value(), case_json(), {17, noise}, std::make_unique<SharedStream>(buffer));
  std::size_t next = 0;
  for (double time = 0; session.now() < kScriptEnd;) {
    time = next_frame(time);
    const Tick now = std::min(static_cast<Tick>(std::floor(time)), kScriptEnd);
    // What came in since the last frame.
    for (; next < script.inputs.size() && script.inputs[next].at_ms <= now; ++next) {
      session.feed(script.inputs[next]);
    }
    session.advance_to(now);
    (void)session.live().moment(time - std::floor(time));  // drawing reads, and changes nothing
  }
  session.end();
  return buffer->str();
}

}  // namespace redress::tests
