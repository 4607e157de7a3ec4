// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The digits that are cut into prisms, as a texture of distances to their strokes.
#pragma once

#include <array>

#include "render/gl/texture.hpp"

namespace redress::draw {

/// Ten digits and a point side by side; 0.5 on the middle of a stroke's edge, more inside.
gl::TextureHandle make_engraving();

inline constexpr int kGlyphs = 11;
inline constexpr int kNoGlyph = -1;
/// The glyphs of a power, left to right, at most four; unused places kNoGlyph.
std::array<int, 4> make_label(double power_pd);

}  // namespace redress::draw
