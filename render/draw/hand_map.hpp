// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The hand that holds the occluder, drawn once into maps: a frame only lights them.
#pragma once

#include <vector>

#include "render/gl/program.hpp"
#include "render/gl/texture.hpp"

namespace redress::draw {

/// What of the hand is in front of the handle, and what is behind it.
enum class HandPart { kThumb, kFingers };

/// A stripe across the hand, mm: nothing of it is beyond `from` and `to`, and between `whole_from`
/// and `whole_to` it hides all.
struct HandStripe {
  float low = 0;
  float high = 0;
  float from = 0;
  float to = 0;
  float whole_from = 0;
  float whole_to = 0;
};

/// Skin (square roots, with how much of a texel is covered) and shape (slope, shade, shine) of one
/// part.
struct HandMap {
  gl::TextureHandle skin;
  gl::TextureHandle shape;
  /// x0 y0 x1 y1, mm: across the handle to the examiner's right, and up from the blade's lower end.
  glm::vec4 box{0};
  std::vector<HandStripe> stripes;
};

/// Draws into stores of its own and leaves none bound, the viewport changed and blending off.
HandMap make_hand_map(HandPart part, const gl::VertexArray& empty);

}  // namespace redress::draw
