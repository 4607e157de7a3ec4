// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/draw/hand_map.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>

namespace redress::draw {
namespace {

constexpr float kTexelMm = 0.2F;
// How far up the shader's hand, which is made round a point 28 mm below the end of its thumb, has
// taken the handle: the thumb lies on the blade, as one holds what must not turn. Judgement.
constexpr float kUpMm = 18;
constexpr int kStripeTexels = 20;

/// From how much each texel is covered, row by row from below.
std::vector<HandStripe> find_stripes(const std::vector<std::uint8_t>& cover, int width, int height,
                                     glm::vec4 box) {
  std::vector<HandStripe> stripes;
  for (int low = 0; low < height; low += kStripeTexels) {
    const int high = std::min(low + kStripeTexels, height);
    // A texel more each way: between texels the map is mixed.
    std::vector<std::uint8_t> most(static_cast<std::size_t>(width), 0);
    std::vector<std::uint8_t> least(static_cast<std::size_t>(width), 255);
    for (int y = std::max(low - 1, 0); y < std::min(high + 1, height); ++y) {
      for (int x = 0; x < width; ++x) {
        const auto at = static_cast<std::size_t>(x);
        const std::uint8_t here = cover[static_cast<std::size_t>(y * width + x)];
        most[at] = std::max(most[at], here);
        least[at] = std::min(least[at], here);
      }
    }
    const auto any = [](std::uint8_t c) { return c > 0; };
    const auto first = std::find_if(most.begin(), most.end(), any);
    if (first == most.end()) continue;
    const auto last = std::find_if(most.rbegin(), most.rend(), any);
    HandStripe s;
    const auto to_mm = [&](std::ptrdiff_t texel) {
      return box.x + kTexelMm * static_cast<float>(texel);
    };
    s.low = box.y + kTexelMm * static_cast<float>(low);
    s.high = box.y + kTexelMm * static_cast<float>(high);
    s.from = to_mm(first - most.begin() - 1);
    s.to = to_mm(width - (last - most.rbegin()) + 1);
    s.whole_from = s.whole_to = s.from;
    // The longest run without a gap.
    for (auto begin = least.begin(); begin != least.end();) {
      begin = std::find(begin, least.end(), 255);
      const auto end = std::find_if(begin, least.end(), [](std::uint8_t c) { return c != 255; });
      if (static_cast<float>(end - begin - 2) * kTexelMm > s.whole_to - s.whole_from) {
        s.whole_from = to_mm(begin - least.begin() + 1);
        s.whole_to = to_mm(end - least.begin() - 1);
      }
      begin = end;
    }
    stripes.push_back(s);
  }
  return stripes;
}

}  // namespace

HandMap make_hand_map(HandPart part, const gl::VertexArray& empty) {
  const bool thumb = part == HandPart::kThumb;
  const glm::vec4 drawn = thumb ? glm::vec4(-9, -112, 40, -18) : glm::vec4(-36, -206, 42, -26);
  const int width = static_cast<int>(std::lround((drawn.z - drawn.x) / kTexelMm));
  const int height = static_cast<int>(std::lround((drawn.w - drawn.y) / kTexelMm));
  HandMap map;
  map.box = drawn + glm::vec4(0, kUpMm, 0, kUpMm);
  map.skin = gl::make_texture(width, height, gl::kBytes, nullptr, {});
  map.shape = gl::make_texture(width, height, gl::kBytes, nullptr, {});
  const gl::Framebuffer store = gl::Framebuffer::make();
  glBindFramebuffer(GL_FRAMEBUFFER, store.id());
  glFramebufferTexture2D(GL_FRAMEBUFFER, GL_COLOR_ATTACHMENT0, GL_TEXTURE_2D, map.skin.id(), 0);
  glFramebufferTexture2D(GL_FRAMEBUFFER, GL_COLOR_ATTACHMENT1, GL_TEXTURE_2D, map.shape.id(), 0);
  const std::array<GLenum, 2> both{GL_COLOR_ATTACHMENT0, GL_COLOR_ATTACHMENT1};
  glDrawBuffers(static_cast<GLsizei>(both.size()), both.data());
  if (glCheckFramebufferStatus(GL_FRAMEBUFFER) != GL_FRAMEBUFFER_COMPLETE) {
    throw gl::Error("this graphics driver cannot draw into two pictures at once");
  }
  const gl::Program program("map.vert", "hand_map.frag");
  program.use();
  program.set("uQuad", drawn);
  program.set("uTexel", kTexelMm);
  program.set("uThumb", thumb ? 1.0F : 0.0F);
  glViewport(0, 0, width, height);
  glDisable(GL_SCISSOR_TEST);
  glDisable(GL_DEPTH_TEST);
  glDisable(GL_BLEND);
  glBindVertexArray(empty.id());
  glDrawArrays(GL_TRIANGLES, 0, 3);
  std::vector<std::uint8_t> texels(static_cast<std::size_t>(width * height) * 4);
  glReadPixels(0, 0, width, height, GL_RGBA, GL_UNSIGNED_BYTE, texels.data());
  std::vector<std::uint8_t> cover;
  for (std::size_t k = 3; k < texels.size(); k += 4) cover.push_back(texels[k]);
  map.stripes = find_stripes(cover, width, height, map.box);
  glBindFramebuffer(GL_FRAMEBUFFER, 0);
  return map;
}

}  // namespace redress::draw
