// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/gl/texture.hpp"

#include <algorithm>

namespace redress::gl {

TextureHandle make_texture(int width, int height, TextureFormat format, const void* data,
                           TextureUse use) {
  TextureHandle texture = TextureHandle::make();
  glBindTexture(GL_TEXTURE_2D, texture.id());
  glPixelStorei(GL_UNPACK_ALIGNMENT, 1);
  glTexImage2D(GL_TEXTURE_2D, 0, static_cast<GLint>(format.internal), width, height, 0,
               format.format, format.type, data);
  glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_WRAP_S,
                  use.repeat_across ? GL_REPEAT : GL_CLAMP_TO_EDGE);
  glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_WRAP_T, use.repeat_up ? GL_REPEAT : GL_CLAMP_TO_EDGE);
  glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MAG_FILTER, GL_LINEAR);
  glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MIN_FILTER,
                  use.mipmaps ? GL_LINEAR_MIPMAP_NEAREST : GL_LINEAR);
  if (use.mipmaps) glGenerateMipmap(GL_TEXTURE_2D);
  return texture;
}

void bind_texture(int unit, GLuint texture) {
  glActiveTexture(GL_TEXTURE0 + static_cast<GLenum>(unit));
  glBindTexture(GL_TEXTURE_2D, texture);
}

RenderTarget::RenderTarget(int width, int height, int samples, bool depth)
    : width_(width), height_(height) {
  GLint most = 1;
  if (samples > 1) glGetIntegerv(GL_MAX_SAMPLES, &most);
  samples_ = std::max(1, std::min(samples, most));
  while (!make_store(depth)) {
    if (samples_ == 1) {
      throw Error("this graphics driver cannot draw into a picture of " + std::to_string(width) +
                  " x " + std::to_string(height) + " pixels");
    }
    samples_ /= 2;
  }
}

bool RenderTarget::make_store(bool depth) {
  texture_ = {};
  colour_ = {};
  depth_ = {};
  framebuffer_ = Framebuffer::make();
  glBindFramebuffer(GL_FRAMEBUFFER, framebuffer_.id());
  if (depth) {
    depth_ = Renderbuffer::make();
    glBindRenderbuffer(GL_RENDERBUFFER, depth_.id());
    if (samples_ > 1) {
      glRenderbufferStorageMultisample(GL_RENDERBUFFER, samples_, GL_DEPTH_COMPONENT16, width_,
                                       height_);
    } else {
      glRenderbufferStorage(GL_RENDERBUFFER, GL_DEPTH_COMPONENT16, width_, height_);
    }
    glFramebufferRenderbuffer(GL_FRAMEBUFFER, GL_DEPTH_ATTACHMENT, GL_RENDERBUFFER, depth_.id());
  }
  if (samples_ > 1) {
    colour_ = Renderbuffer::make();
    glBindRenderbuffer(GL_RENDERBUFFER, colour_.id());
    glRenderbufferStorageMultisample(GL_RENDERBUFFER, samples_, GL_SRGB8_ALPHA8, width_, height_);
    glFramebufferRenderbuffer(GL_FRAMEBUFFER, GL_COLOR_ATTACHMENT0, GL_RENDERBUFFER, colour_.id());
  } else {
    texture_ = make_texture(width_, height_, kEncodedBytes, nullptr, {});
    // A prism bends lines of sight beyond the picture: skin turned back looks like skin, a held
    // edge draws streaks.
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_WRAP_S, GL_MIRRORED_REPEAT);
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_WRAP_T, GL_MIRRORED_REPEAT);
    glFramebufferTexture2D(GL_FRAMEBUFFER, GL_COLOR_ATTACHMENT0, GL_TEXTURE_2D, texture_.id(), 0);
  }
  return glCheckFramebufferStatus(GL_FRAMEBUFFER) == GL_FRAMEBUFFER_COMPLETE;
}

void copy_box(GLuint from, GLuint to, PixelBox box) {
  if (box.width <= 0 || box.height <= 0) return;
  glEnable(GL_FRAMEBUFFER_SRGB);  // same format on both sides: llvmpipe then copies bytes
  glBindFramebuffer(GL_READ_FRAMEBUFFER, from);
  glBindFramebuffer(GL_DRAW_FRAMEBUFFER, to);
  const int x1 = box.x + box.width;
  const int y1 = box.y + box.height;
  glBlitFramebuffer(box.x, box.y, x1, y1, box.x, box.y, x1, y1, GL_COLOR_BUFFER_BIT, GL_NEAREST);
}

PixelBox calc_overlap(PixelBox a, PixelBox b) {
  const int x0 = std::max(a.x, b.x);
  const int y0 = std::max(a.y, b.y);
  const int x1 = std::min(a.x + a.width, b.x + b.width);
  const int y1 = std::min(a.y + a.height, b.y + b.height);
  return {x0, y0, std::max(x1 - x0, 0), std::max(y1 - y0, 0)};
}

PixelBox calc_union(PixelBox a, PixelBox b) {
  if (a.width <= 0 || a.height <= 0) return b;
  if (b.width <= 0 || b.height <= 0) return a;
  const int x0 = std::min(a.x, b.x);
  const int y0 = std::min(a.y, b.y);
  const int x1 = std::max(a.x + a.width, b.x + b.width);
  const int y1 = std::max(a.y + a.height, b.y + b.height);
  return {x0, y0, x1 - x0, y1 - y0};
}

void copy_scaled(GLuint from, PixelBox source, GLuint to, PixelBox target) {
  const bool same = source.width == target.width && source.height == target.height;
  glDisable(GL_FRAMEBUFFER_SRGB);
  glBindFramebuffer(GL_READ_FRAMEBUFFER, from);
  glBindFramebuffer(GL_DRAW_FRAMEBUFFER, to);
  glBlitFramebuffer(source.x, source.y, source.x + source.width, source.y + source.height, target.x,
                    target.y, target.x + target.width, target.y + target.height,
                    GL_COLOR_BUFFER_BIT, same ? GL_NEAREST : GL_LINEAR);
}

}  // namespace redress::gl
