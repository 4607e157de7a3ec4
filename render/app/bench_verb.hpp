// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// `redress bench` with the picture and the window: what their frames take on this machine, beside
// what the engine's steps take. Figures are as good as the machine is quiet; ratios are better.
#pragma once

namespace redress::app {

/// Prints everything as JSON. Where no OpenGL can be had the picture's part says so and the
/// engine's figures are there all the same. Exit code.
int bench_with_pictures();

/// What the first frame is measured against: a window with a few words and nothing else, five
/// frames of it. Says on standard error what they cost, as --timings does. Exit code.
int show_bare_window(int width, int height);

}  // namespace redress::app
