// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// What this keyboard prints where letters and signs lie; digits and named keys stay as they are.
#pragma once

#include <map>
#include <string>

#include "render/screens/examine/keys.hpp"
#include "render/window/window.hpp"

namespace redress::app {

std::map<screens::examine::Scancode, std::string> read_printed_keys(const window::Window& window);

}  // namespace redress::app
