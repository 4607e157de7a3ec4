// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// An OpenGL context without a window or a display, for tests and for pictures written to files.
#pragma once

#include "render/gl/api.hpp"

namespace redress::gl {

/// Made current on the thread that constructs it. Uses EGL without a surface (or with a tiny one).
class OffscreenContext {
 public:
  /// Throws Error where the driver has no such context.
  OffscreenContext();
  ~OffscreenContext();
  OffscreenContext(const OffscreenContext&) = delete;
  OffscreenContext& operator=(const OffscreenContext&) = delete;

 private:
  void* display_ = nullptr;
  void* context_ = nullptr;
};

}  // namespace redress::gl
