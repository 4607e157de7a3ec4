// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Owners of OpenGL names. A handle is empty or owns one object; it must die while its context
// lives.
#pragma once

#include <utility>

#include "render/gl/api.hpp"

namespace redress::gl {

template <class Kind>
class Handle {
 public:
  Handle() = default;
  ~Handle() { reset(); }
  Handle(Handle&& other) noexcept : id_(std::exchange(other.id_, 0U)) {}
  Handle& operator=(Handle&& other) noexcept {
    if (this != &other) {
      reset();
      id_ = std::exchange(other.id_, 0U);
    }
    return *this;
  }
  Handle(const Handle&) = delete;
  Handle& operator=(const Handle&) = delete;

  /// A new object of this kind in the current context.
  static Handle make() {
    Handle h;
    Kind::make(&h.id_);
    return h;
  }
  [[nodiscard]] GLuint id() const { return id_; }
  explicit operator bool() const { return id_ != 0; }

 private:
  void reset() {
    if (id_ != 0) Kind::destroy(&id_);
    id_ = 0;
  }
  GLuint id_ = 0;
};

struct BufferKind {
  static void make(GLuint* id) { glGenBuffers(1, id); }
  static void destroy(const GLuint* id) { glDeleteBuffers(1, id); }
};
struct VertexArrayKind {
  static void make(GLuint* id) { glGenVertexArrays(1, id); }
  static void destroy(const GLuint* id) { glDeleteVertexArrays(1, id); }
};
struct TextureKind {
  static void make(GLuint* id) { glGenTextures(1, id); }
  static void destroy(const GLuint* id) { glDeleteTextures(1, id); }
};
struct RenderbufferKind {
  static void make(GLuint* id) { glGenRenderbuffers(1, id); }
  static void destroy(const GLuint* id) { glDeleteRenderbuffers(1, id); }
};
struct FramebufferKind {
  static void make(GLuint* id) { glGenFramebuffers(1, id); }
  static void destroy(const GLuint* id) { glDeleteFramebuffers(1, id); }
};
struct QueryKind {
  static void make(GLuint* id) { glGenQueries(1, id); }
  static void destroy(const GLuint* id) { glDeleteQueries(1, id); }
};
struct ProgramKind {
  static void make(GLuint* id) { *id = glCreateProgram(); }
  static void destroy(const GLuint* id) { glDeleteProgram(*id); }
};

using Buffer = Handle<BufferKind>;
using VertexArray = Handle<VertexArrayKind>;
using TextureHandle = Handle<TextureKind>;
using Renderbuffer = Handle<RenderbufferKind>;
using Framebuffer = Handle<FramebufferKind>;
using QueryHandle = Handle<QueryKind>;
using ProgramHandle = Handle<ProgramKind>;

}  // namespace redress::gl
