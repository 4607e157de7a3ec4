// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/gl/offscreen.hpp"

#include <EGL/egl.h>
#include <EGL/eglext.h>

#include <array>
#include <cstring>

namespace redress::gl {
namespace {

bool offers(const char* extension) {
  const char* const known = eglQueryString(EGL_NO_DISPLAY, EGL_EXTENSIONS);
  return known != nullptr && std::strstr(known, extension) != nullptr;
}

bool can_start(EGLDisplay display) {
  return display != EGL_NO_DISPLAY && eglInitialize(display, nullptr, nullptr) == EGL_TRUE;
}

/// Started; none: EGL_NO_DISPLAY. Without a surface where the driver has that (Mesa), else on a
/// graphics card itself (others), else on whatever there is.
EGLDisplay start_display() {
  const auto find = reinterpret_cast<PFNEGLGETPLATFORMDISPLAYEXTPROC>(
      eglGetProcAddress("eglGetPlatformDisplayEXT"));
  if (find != nullptr && offers("EGL_MESA_platform_surfaceless")) {
    const EGLDisplay display = find(EGL_PLATFORM_SURFACELESS_MESA, nullptr, nullptr);
    if (can_start(display)) return display;
  }
  const auto list =
      reinterpret_cast<PFNEGLQUERYDEVICESEXTPROC>(eglGetProcAddress("eglQueryDevicesEXT"));
  if (find != nullptr && list != nullptr && offers("EGL_EXT_platform_device")) {
    std::array<EGLDeviceEXT, 16> devices{};
    EGLint count = 0;
    if (list(static_cast<EGLint>(devices.size()), devices.data(), &count) == EGL_FALSE) count = 0;
    for (EGLint k = 0; k < count; ++k) {
      const EGLDisplay display =
          find(EGL_PLATFORM_DEVICE_EXT, devices[static_cast<std::size_t>(k)], nullptr);
      if (can_start(display)) return display;
    }
  }
  const EGLDisplay display = eglGetDisplay(EGL_DEFAULT_DISPLAY);
  return can_start(display) ? display : EGL_NO_DISPLAY;
}

}  // namespace

OffscreenContext::OffscreenContext() {
  const EGLDisplay display = start_display();
  if (display == EGL_NO_DISPLAY) {
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
