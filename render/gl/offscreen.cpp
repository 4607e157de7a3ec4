// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/gl/offscreen.hpp"

#include <EGL/egl.h>
#include <EGL/eglext.h>

#include <array>
#include <cstring>

namespace redress::gl {
namespace {

EGLDisplay find_display() {
  const char* const known = eglQueryString(EGL_NO_DISPLAY, EGL_EXTENSIONS);
  if (known != nullptr && std::strstr(known, "EGL_MESA_platform_surfaceless") != nullptr) {
    const auto find = reinterpret_cast<PFNEGLGETPLATFORMDISPLAYEXTPROC>(
        eglGetProcAddress("eglGetPlatformDisplayEXT"));
    if (find != nullptr) {
      return find(EGL_PLATFORM_SURFACELESS_MESA, nullptr, nullptr);
    }
  }
  return eglGetDisplay(EGL_DEFAULT_DISPLAY);
}

}  // namespace

OffscreenContext::OffscreenContext() {
  const EGLDisplay display = find_display();
  if (display == EGL_NO_DISPLAY || eglInitialize(display, nullptr, nullptr) == EGL_FALSE) {
    throw Error("no offscreen display: EGL could not be started");
  }
  display_ = display;
  constexpr std::array<EGLint, 5> kConfig{EGL_SURFACE_TYPE, EGL_PBUFFER_BIT, EGL_RENDERABLE_TYPE,
                                          EGL_OPENGL_BIT, EGL_NONE};
  constexpr std::array<EGLint, 9> kVersion{EGL_CONTEXT_MAJOR_VERSION,
                                           3,
                                           EGL_CONTEXT_MINOR_VERSION,
                                           3,
                                           EGL_CONTEXT_OPENGL_PROFILE_MASK,
                                           EGL_CONTEXT_OPENGL_CORE_PROFILE_BIT,
                                           EGL_CONTEXT_OPENGL_DEBUG,
                                           EGL_TRUE,
                                           EGL_NONE};
  EGLConfig config = nullptr;
  EGLint count = 0;
  eglBindAPI(EGL_OPENGL_API);
  eglChooseConfig(display, kConfig.data(), &config, 1, &count);
  const EGLContext context = eglCreateContext(display, count > 0 ? config : EGL_NO_CONFIG_KHR,
                                              EGL_NO_CONTEXT, kVersion.data());
  if (context == EGL_NO_CONTEXT ||
      eglMakeCurrent(display, EGL_NO_SURFACE, EGL_NO_SURFACE, context) == EGL_FALSE) {
    eglTerminate(display);
    throw Error("no offscreen OpenGL 3.3 context");
  }
  context_ = context;
  load_functions(eglGetProcAddress);
}

OffscreenContext::~OffscreenContext() {
  eglMakeCurrent(display_, EGL_NO_SURFACE, EGL_NO_SURFACE, EGL_NO_CONTEXT);
  eglDestroyContext(display_, context_);
  eglTerminate(display_);
}

}  // namespace redress::gl
