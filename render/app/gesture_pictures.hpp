// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The pictures on the page of keys: what the mouse hand does with the occluder, before the face of
// whoever is in the room. Needs a current OpenGL context.
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>

#include "render/app/stage.hpp"
#include "render/screens/examine/help_page.hpp"

namespace redress::app {

class GesturePictures {
 public:
  /// Draws the next of them that is not there yet, so many pixels wide; true: there was one. None
  /// while the stage is not ready. Another width begins anew.
  bool draw_next(Stage& stage, int width_px);
  void forget();
  [[nodiscard]] std::array<std::uintptr_t, screens::examine::kGestures> textures() const;

 private:
  std::array<gl::TextureHandle, screens::examine::kGestures> pictures_;
  int width_px_ = 0;
  std::size_t drawn_ = 0;
};

}  // namespace redress::app
