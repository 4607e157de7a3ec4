// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// A list of things that a user does, for tests of the whole program: one a line, "AT_MS WHAT ...".
//   0 click Begin              the part with this label or id
//   400 move 520 310           pointer, pixels
//   420 press left | release left | wheel 2
//   900 key Space | down A | up A     keys by the letters of a US keyboard or their names
//   1200 type 33 cm XOP
//   1500 shot FILE.png         the picture of that frame
//   1600 lose graphics         the driver gives the context up
//   1700 screen 2              the window is on a screen of so many pixels a point
// Empty lines and lines that begin with # say nothing.
#pragma once

#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "render/window/input.hpp"
#include "sim/basics/problem.hpp"

namespace redress::app {

struct ClickLabel {
  std::string label;
};
struct TakePicture {
  std::string path;
};
struct LoseGraphics {};
struct MoveToScreen {
  double pixels_per_point = 1;
};

struct ScriptStep {
  double at_ms = 0;
  std::variant<window::InputContent, ClickLabel, TakePicture, LoseGraphics, MoveToScreen> what;
  window::Modifiers modifiers;
};

/// Problems name the line.
Result<std::vector<ScriptStep>> parse_script(std::string_view text);

}  // namespace redress::app
