// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/draw/png.hpp"

#include <cstdio>
#include <filesystem>
#include <fstream>

#if defined(__GNUC__)
#pragma GCC diagnostic push
#pragma GCC diagnostic ignored "-Wunused-function"
#endif
#define STB_IMAGE_WRITE_IMPLEMENTATION
#define STB_IMAGE_WRITE_STATIC
#define STBI_WRITE_NO_STDIO
#include <stb/stb_image_write.h>
#if defined(__GNUC__)
#pragma GCC diagnostic pop
#endif

namespace redress::draw {

std::array<std::uint8_t, 3> Pixels::at(int x, int y) const {
  const auto k = (static_cast<std::size_t>(y) * static_cast<std::size_t>(width) +
                  static_cast<std::size_t>(x)) *
                 3;
  return {rgb[k], rgb[k + 1], rgb[k + 2]};
}

Pixels read_pixels(GLuint framebuffer, int width, int height) {
  Pixels out{width, height, {}};
  const auto row = static_cast<std::size_t>(width) * 3;
  std::vector<std::uint8_t> upward(row * static_cast<std::size_t>(height));
  glBindFramebuffer(GL_READ_FRAMEBUFFER, framebuffer);
  glPixelStorei(GL_PACK_ALIGNMENT, 1);
  glReadPixels(0, 0, width, height, GL_RGB, GL_UNSIGNED_BYTE, upward.data());
  out.rgb.reserve(upward.size());
  for (std::size_t y = static_cast<std::size_t>(height); y-- > 0;) {
    const auto from = upward.begin() + static_cast<std::ptrdiff_t>(y * row);
    out.rgb.insert(out.rgb.end(), from, from + static_cast<std::ptrdiff_t>(row));
  }
  return out;
}

std::vector<std::uint8_t> format_png(const Pixels& pixels) {
  std::vector<std::uint8_t> bytes;
  const auto append = [](void* to, void* data, int size) {
    auto* const out = static_cast<std::vector<std::uint8_t>*>(to);
    const auto* const from = static_cast<const std::uint8_t*>(data);
    out->insert(out->end(), from, from + size);
  };
  if (stbi_write_png_to_func(append, &bytes, pixels.width, pixels.height, 3, pixels.rgb.data(),
                             pixels.width * 3) == 0) {
    bytes.clear();
  }
  return bytes;
}

bool write_png(const std::string& path, const Pixels& pixels) {
  const std::vector<std::uint8_t> bytes = format_png(pixels);
  if (bytes.empty()) return false;
  const std::string beside = path + ".part";
  {
    std::ofstream file(beside, std::ios::binary);
    file.write(reinterpret_cast<const char*>(bytes.data()),
               static_cast<std::streamsize>(bytes.size()));
    if (!file.flush()) {
      file.close();
      std::remove(beside.c_str());
      return false;
    }
  }
  std::error_code failed;
  std::filesystem::rename(beside, path, failed);
  if (failed) std::remove(beside.c_str());
  return !failed;
}

}  // namespace redress::draw
