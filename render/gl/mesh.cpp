// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/gl/mesh.hpp"

namespace redress::gl {

Mesh::Mesh(std::initializer_list<int> parts)
    : array_(VertexArray::make()), vertices_(Buffer::make()), indices_(Buffer::make()) {
  glBindVertexArray(array_.id());
  glBindBuffer(GL_ARRAY_BUFFER, vertices_.id());
  glBindBuffer(GL_ELEMENT_ARRAY_BUFFER, indices_.id());
  int stride = 0;
  for (const int n : parts) stride += n;
  GLuint location = 0;
  std::uintptr_t offset = 0;
  for (const int n : parts) {
    glEnableVertexAttribArray(location);
    glVertexAttribPointer(location, n, GL_FLOAT, GL_FALSE,
                          stride * static_cast<GLsizei>(sizeof(float)),
                          reinterpret_cast<const void*>(offset));
    offset += static_cast<std::uintptr_t>(n) * sizeof(float);
    ++location;
  }
  glBindVertexArray(0);
}

void Mesh::upload(std::span<const float> vertices, std::span<const std::uint32_t> indices,
                  bool often) {
  const GLenum use = often ? GL_STREAM_DRAW : GL_STATIC_DRAW;
  glBindVertexArray(array_.id());
  glBindBuffer(GL_ARRAY_BUFFER, vertices_.id());
  glBufferData(GL_ARRAY_BUFFER, static_cast<GLsizeiptr>(vertices.size_bytes()), vertices.data(),
               use);
  glBufferData(GL_ELEMENT_ARRAY_BUFFER, static_cast<GLsizeiptr>(indices.size_bytes()),
               indices.data(), use);
  count_ = indices.size();
  glBindVertexArray(0);
}

void Mesh::draw_range(std::size_t first, std::size_t count) const {
  if (count == 0) return;
  glBindVertexArray(array_.id());
  glDrawElements(GL_TRIANGLES, static_cast<GLsizei>(count), GL_UNSIGNED_INT,
                 reinterpret_cast<const void*>(first * sizeof(std::uint32_t)));
}

}  // namespace redress::gl
