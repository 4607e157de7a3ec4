// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/draw/instrument_painter.hpp"

#include <algorithm>

#include "render/gl/stored.hpp"

namespace redress::draw {
namespace {

/// One thing before the face, by its distance from it.
struct Item {
  enum class Kind { kOccluder, kPrism, kSpectacles, kTrialLenses };
  double z_mm = 0;
  Kind kind = Kind::kOccluder;
  const scene::Prism* prism = nullptr;
};
using Kind = Item::Kind;

std::vector<Item> make_items(const scene::Scene& scene) {
  std::vector<Item> items;
  for (const scene::Prism& p : scene.prisms)
    items.push_back({p.back_centre_mm.z, Kind::kPrism, &p});
  if (scene.occluder.present) items.push_back({scene.occluder.centre_mm.z, Kind::kOccluder});
  if (scene.spectacles.worn) {
    items.push_back({SpectaclePainter::find_plane_mm(scene), Kind::kSpectacles});
  }
  if (scene.trial_lens_d[0] != 0.0 || scene.trial_lens_d[1] != 0.0) {
    items.push_back({SpectaclePainter::find_trial_plane_mm(scene), Kind::kTrialLenses});
  }
  // The examiner is at -z: what is nearest the face comes first.
  std::stable_sort(items.begin(), items.end(),
                   [](const Item& a, const Item& b) { return a.z_mm > b.z_mm; });
  return items;
}

}  // namespace

/// Halved until a pixel is about 0.3 mm: step by step, or a glint would fall between the samples.
GLuint InstrumentPainter::blur(const gl::RenderTarget& composed, float mm_per_pixel) {
  const gl::RenderTarget* from = &composed;
  float mm = mm_per_pixel;
  for (std::size_t k = 0; mm < 0.22F && from->width() > 8 && from->height() > 8; ++k, mm *= 2) {
    if (halves_.size() <= k) {
      halves_.reserve(16);
      halves_.emplace_back(from->width() / 2, from->height() / 2, 1);
    }
    const gl::RenderTarget& to = halves_[k];
    gl::copy_scaled(from->framebuffer(), {0, 0, from->width(), from->height()}, to.framebuffer(),
                    {0, 0, to.width(), to.height()});
    from = &to;
  }
  return from->texture();
}

gl::PixelBox InstrumentPainter::draw(const scene::Scene& scene, const face::Camera& camera,
                                     const gl::RenderTarget& composed, gl::PixelBox region) {
  const std::vector<Item> items = make_items(scene);
  gl::PixelBox drawn;
  if (items.empty()) return drawn;
  occluder_.prepare(scene);
  const gl::PixelBox all{0, 0, camera.width, camera.height};
  if (behind_.width() != camera.width || behind_.height() != camera.height) {
    behind_ = gl::RenderTarget(camera.width, camera.height, 1);
    reads_as_stored_ = gl::read_as_stored(behind_.texture());
    halves_.clear();
  }
  const auto begin = [&composed, region] {
    glEnable(GL_SCISSOR_TEST);
    glScissor(region.x, region.y, region.width, region.height);
    glBindFramebuffer(GL_FRAMEBUFFER, composed.framebuffer());
    glEnable(GL_FRAMEBUFFER_SRGB);
    glEnable(GL_BLEND);
    glBlendFunc(GL_ONE, GL_ONE_MINUS_SRC_ALPHA);
  };
  glViewport(0, 0, camera.width, camera.height);
  glDisable(GL_DEPTH_TEST);
  begin();
  const bool wears_lenses =
      scene.spectacles.worn || scene.trial_lens_d[0] != 0.0 || scene.trial_lens_d[1] != 0.0;
  if (wears_lenses) {
    if (!spectacles_) spectacles_.emplace();
    drawn = spectacles_->draw_shadow(scene, camera);
  }
  if (scene.occluder.present) {
    drawn = gl::calc_union(drawn, occluder_.draw_shadow(scene, camera));
  }
  for (const Item& item : items) {
    gl::PixelBox box;
    if (item.kind == Kind::kOccluder) {
      const bool frosted = scene.occluder.translucent && !scene.transparent_occluder;
      glDisable(GL_SCISSOR_TEST);
      const GLuint blurred = frosted ? blur(composed, camera.mm_per_pixel) : 0;
      glViewport(0, 0, camera.width, camera.height);
      begin();
      box = occluder_.draw(scene, camera, blurred);
    } else {
      box = item.kind == Kind::kPrism        ? prisms_.calc_box(*item.prism, camera)
            : item.kind == Kind::kSpectacles ? SpectaclePainter::calc_box(scene, camera)
                                             : SpectaclePainter::calc_trial_box(scene, camera);
      glDisable(GL_SCISSOR_TEST);
      gl::copy_box(composed.framebuffer(), behind_.framebuffer(), gl::calc_overlap(box, region));
      begin();
      const Behind behind{behind_.texture(), reads_as_stored_};
      if (item.kind == Kind::kPrism) {
        prisms_.draw(*item.prism, scene, camera, behind);
      } else if (item.kind == Kind::kSpectacles) {
        spectacles_->draw(scene, camera, behind);
      } else {
        spectacles_->draw_trial(scene, camera, behind);
      }
    }
    drawn = gl::calc_union(drawn, box);
  }
  glDisable(GL_SCISSOR_TEST);
  glDisable(GL_BLEND);
  glDisable(GL_FRAMEBUFFER_SRGB);
  return gl::calc_overlap(gl::calc_overlap(drawn, region), all);
}

}  // namespace redress::draw
