// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// From the window library's events to InputEvent values. For window.cpp and its test.
#pragma once

#include <SDL.h>

#include <optional>

#include "render/window/input.hpp"

namespace redress::window {

/// `pixels_per_point` is more than 1 where a window's size is not told in pixels. Nothing: not of
/// interest. Times are the event's own.
std::optional<InputEvent> to_input_event(const SDL_Event& event, double pixels_per_point);

}  // namespace redress::window
