// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// redress picture: what the examiner sees at one moment, as a PNG, without a window or a display.
#pragma once

#include <cstdint>
#include <optional>
#include <string>

namespace redress::app {

struct PictureOptions {
  std::string case_path;
  std::string acts_path;  ///< empty: nothing is done
  std::int64_t at_ms = 0;
  std::string out_path;
  int width = 1280;  ///< 16 ... 8192
  int height = 720;
  std::optional<std::uint64_t> seed;
  double noise = 1;
};

/// Draws the room's view with both eyes, without the furniture. 0, or 1 with the reason on standard
/// error.
int draw_picture(const PictureOptions& options);

}  // namespace redress::app
