// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/gl/debug.hpp"

namespace redress::gl {
namespace {

void GLAD_API_PTR on_message(GLenum, GLenum, GLuint, GLenum severity, GLsizei length,
                             const GLchar* text, const void* user) {
  if (severity == GL_DEBUG_SEVERITY_NOTIFICATION) return;
  // The interface hands our own pointer back as const.
  auto* const messages = static_cast<std::vector<std::string>*>(const_cast<void*>(user));
  messages->emplace_back(
      text, length < 0 ? std::string_view(text).size() : static_cast<std::size_t>(length));
}

}  // namespace

void load_functions(ProcAddress find) {
  if (gladLoadGL(find) < GLAD_MAKE_VERSION(3, 3)) {
    throw Error("OpenGL 3.3 is needed, and this driver does not offer it");
  }
}

bool is_context_lost() {
  return GLAD_GL_KHR_robustness != 0 && glGetGraphicsResetStatus() != GL_NO_ERROR;
}

DebugLog::DebugLog() {
  if (GLAD_GL_KHR_debug == 0) return;
  glEnable(GL_DEBUG_OUTPUT);
  glEnable(GL_DEBUG_OUTPUT_SYNCHRONOUS);
  glDebugMessageCallback(on_message, &messages_);
}

DebugLog::~DebugLog() {
  if (GLAD_GL_KHR_debug == 0) return;
  glDebugMessageCallback(nullptr, nullptr);
  glDisable(GL_DEBUG_OUTPUT);
}

std::vector<std::string> DebugLog::check_messages() {
  for (GLenum e = glGetError(); e != GL_NO_ERROR; e = glGetError()) {
    messages_.push_back("glGetError: " + std::to_string(e));
  }
  return messages_;
}

}  // namespace redress::gl
