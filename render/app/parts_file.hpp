// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// What stands on the screen, for whoever tries the program from outside: one line of JSON for each
// frame that differs from the one before. A part is then found by the words on it, never by where
// it stood when the test was written. Rectangles are [left, top, width, height], pixels of the
// window.
//   {"frame":12,"at_ms":203.1,"shots":[],"scale":1,"place":"study","typing":false,
//    "focused":"cases/Begin",
//    "parts":[{"label":"Begin","id":"cases/Begin","kind":"button","rect":[...],"available":true}],
//    "texts":[{"text":"Cases","region":"bar","fits":true,"rect":[...]}],
//    "outlines":[{"region":"form","rect":[...],"visible":[...]}],
//    "regions":[{"name":"bar","rect":[...]}]}
// "shots" are the pictures that a script took of this frame. What is clipped away has an empty
// rectangle; regions lie over earlier ones.
#pragma once

#include <string>

#include "render/screens/parts/probe.hpp"
#include "render/screens/parts/ui.hpp"

namespace redress::app {

/// Everything from "scale" on, without the braces.
std::string format_parts(const screens::Ui& ui, const screens::UiProbe& probe);

}  // namespace redress::app
