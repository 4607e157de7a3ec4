// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/gl/stored.hpp"

#include <string_view>

namespace redress::gl {
namespace {

// Of the extension, which has no functions of its own.
constexpr GLenum kTextureSrgbDecode = 0x8A48;
constexpr GLint kSkipDecode = 0x8A4A;

bool has_extension(std::string_view name) {
  GLint count = 0;
  glGetIntegerv(GL_NUM_EXTENSIONS, &count);
  for (GLint k = 0; k < count; ++k) {
    const auto* const each =
        reinterpret_cast<const char*>(glGetStringi(GL_EXTENSIONS, static_cast<GLuint>(k)));
    if (each != nullptr && name == each) return true;
  }
  return false;
}

}  // namespace

bool read_as_stored(GLuint texture) {
  if (!has_extension("GL_EXT_texture_sRGB_decode")) return false;
  glBindTexture(GL_TEXTURE_2D, texture);
  glTexParameteri(GL_TEXTURE_2D, kTextureSrgbDecode, kSkipDecode);
  return true;
}

}  // namespace redress::gl
