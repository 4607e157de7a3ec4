// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Pixels back from the graphics card, and into files.
#pragma once

#include <array>
#include <cstdint>
#include <string>
#include <vector>

#include "render/gl/api.hpp"

namespace redress::draw {

/// Three bytes a pixel, sRGB, row 0 at the TOP.
struct Pixels {
  int width = 0;
  int height = 0;
  std::vector<std::uint8_t> rgb;

  [[nodiscard]] std::array<std::uint8_t, 3> at(int x, int y) const;
  bool operator==(const Pixels&) const = default;
};

/// The lower left part of a framebuffer.
Pixels read_pixels(GLuint framebuffer, int width, int height);

/// PNG bytes; empty if it cannot be coded.
std::vector<std::uint8_t> format_png(const Pixels& pixels);
/// Writes beside the file and renames, so that it appears whole or not at all; false on failure.
bool write_png(const std::string& path, const Pixels& pixels);

}  // namespace redress::draw
