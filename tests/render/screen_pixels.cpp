// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "tests/render/screen_pixels.hpp"

#if defined(__GNUC__)
#pragma GCC diagnostic push
#pragma GCC diagnostic ignored "-Wunused-function"
#endif
#define STB_IMAGE_IMPLEMENTATION
#define STB_IMAGE_STATIC
#define STBI_ONLY_PNG
#include <stb/stb_image.h>
#if defined(__GNUC__)
#pragma GCC diagnostic pop
#endif

namespace redress::test {

std::optional<draw::Pixels> read_png(const std::string& path) {
  draw::Pixels pixels;
  int channels = 0;
  stbi_uc* const bytes = stbi_load(path.c_str(), &pixels.width, &pixels.height, &channels, 3);
  if (bytes == nullptr) return std::nullopt;
  const auto size =
      static_cast<std::size_t>(pixels.width) * static_cast<std::size_t>(pixels.height) * 3;
  pixels.rgb.assign(bytes, bytes + size);
  stbi_image_free(bytes);
  return pixels;
}

}  // namespace redress::test
