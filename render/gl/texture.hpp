// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Textures from memory and pictures to draw into.
#pragma once

#include "render/gl/handle.hpp"

namespace redress::gl {

struct TextureFormat {
  GLenum internal = GL_RGBA8;
  GLenum format = GL_RGBA;
  GLenum type = GL_UNSIGNED_BYTE;
};
inline constexpr TextureFormat kBytes{GL_RGBA8, GL_RGBA, GL_UNSIGNED_BYTE};
inline constexpr TextureFormat kEncodedBytes{GL_SRGB8_ALPHA8, GL_RGBA, GL_UNSIGNED_BYTE};
inline constexpr TextureFormat kFloats{GL_RGBA32F, GL_RGBA, GL_FLOAT};

struct TextureUse {
  bool repeat_across = false;
  bool repeat_up = false;
  bool mipmaps = false;
};

/// A texture filled from `data`, or left unset where it is null.
TextureHandle make_texture(int width, int height, TextureFormat format, const void* data,
                           TextureUse use);

/// Binds to a unit for the next draw; leaves that unit active.
void bind_texture(int unit, GLuint texture);

/// A picture to draw into: one texture, or a multisampled store with depth that must be resolved.
/// Colours are linear in the shaders and encoded to sRGB in store.
class RenderTarget {
 public:
  RenderTarget() = default;
  /// More than one sample is clamped to what the driver has, and halved until the driver does what
  /// it says it can: some have no samples at all. With a depth store for solids, without for
  /// pictures of pictures. Throws Error where even one sample cannot be drawn into.
  RenderTarget(int width, int height, int samples, bool depth = false);

  [[nodiscard]] GLuint framebuffer() const { return framebuffer_.id(); }
  [[nodiscard]] GLuint texture() const { return texture_.id(); }
  [[nodiscard]] int width() const { return width_; }
  [[nodiscard]] int height() const { return height_; }
  [[nodiscard]] int samples() const { return samples_; }

 private:
  /// False: this driver cannot draw into such a store.
  bool make_store(bool depth);

  int width_ = 0;
  int height_ = 0;
  int samples_ = 1;
  Framebuffer framebuffer_;
  TextureHandle texture_;
  Renderbuffer colour_;
  Renderbuffer depth_;
};

/// A box of pixels, origin at the bottom left.
struct PixelBox {
  int x = 0;
  int y = 0;
  int width = 0;
  int height = 0;
  bool operator==(const PixelBox&) const = default;
};

/// What two boxes share; no width or height if nothing.
PixelBox calc_overlap(PixelBox a, PixelBox b);
/// The least box that holds both; an empty one counts for nothing.
PixelBox calc_union(PixelBox a, PixelBox b);

/// Copies a box between pictures of ours; resolves samples.
void copy_box(GLuint from, GLuint to, PixelBox box);
/// Copies one box onto another as stored, without decoding; filtered if their sizes differ.
void copy_scaled(GLuint from, PixelBox source, GLuint to, PixelBox target);

}  // namespace redress::gl
