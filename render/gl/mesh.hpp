// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Triangles on the GPU: one vertex buffer of floats, one index buffer.
#pragma once

#include <cstdint>
#include <initializer_list>
#include <span>

#include "render/gl/handle.hpp"

namespace redress::gl {

class Mesh {
 public:
  /// `parts`: how many floats each attribute has, in order of its location.
  explicit Mesh(std::initializer_list<int> parts);

  /// Replaces the contents; `often` for meshes that change from frame to frame.
  void upload(std::span<const float> vertices, std::span<const std::uint32_t> indices, bool often);
  void draw() const { draw_range(0, count_); }
  void draw_range(std::size_t first, std::size_t count) const;

 private:
  VertexArray array_;
  Buffer vertices_;
  Buffer indices_;
  std::size_t count_ = 0;
};

}  // namespace redress::gl
