// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/face/face_layer.hpp"

namespace redress::face {
namespace {

using glm::vec2;
using glm::vec3;
using glm::vec4;

constexpr int kSamples = 4;
// A lid that moves by more than this between two frames blinks or follows a wide saccade: nobody
// sees the skin around it then. One that follows a small movement is drawn finely, or the skin
// would tell of it.
constexpr float kFastMm = 0.35F;
constexpr int kBands = 8;  // the whole picture is drawn again in as many frames, not to halt one

/// Of the store with several samples, which is large: a little more than the lids of both eyes need
/// in the usual view. What is higher is drawn in parts.
int calc_fine_rows(int height) { return (height * 45 / 100 + 63) / 64 * 64; }

/// The lowest row of the part of the picture that a row lies in: `rows` each, one of them from
/// `origin` on. A row always has the same one, so that a pixel does not depend on what else is
/// drawn.
int find_base(int row, int origin, int rows) {
  const int above = row - origin;
  return origin + (above >= 0 ? above / rows : -((rows - 1 - above) / rows)) * rows;
}

// The wall behind the patient, out of focus.
constexpr vec3 kWall{0.098F, 0.120F, 0.142F};

template <class Vertex>
std::span<const float> as_floats(const std::vector<Vertex>& v) {
  static_assert(sizeof(Vertex) % sizeof(float) == 0);
  return {reinterpret_cast<const float*>(v.data()), v.size() * (sizeof(Vertex) / sizeof(float))};
}

void upload(gl::Mesh& mesh, const SkinMesh& from, bool often) {
  mesh.upload(as_floats(from.vertices), from.indices, often);
}
void upload(gl::Mesh& mesh, const HairMesh& from, bool often) {
  mesh.upload(as_floats(from.vertices), from.indices, often);
}

gl::TextureHandle make_map(const Image& image, gl::TextureUse use) {
  return gl::make_texture(image.width, image.height, gl::kBytes, image.rgba.data(), use);
}

gl::Mesh make_skin_mesh() { return gl::Mesh({3, 3, 3, 2, 2, 2}); }
gl::Mesh make_hair_mesh() { return gl::Mesh({3, 3, 4}); }

vec3 to_vec(scene::Colour c) { return {c.red, c.green, c.blue}; }

bool differs(LidLine a, LidLine b, float mm) {
  return std::abs(a.top - b.top) > mm || std::abs(a.bottom - b.bottom) > mm;
}

}  // namespace

void set_light(const gl::Program& program, const Camera& camera, double room) {
  const glm::mat3 to_head = glm::transpose(camera.head_to_room);
  program.set("uToClip", camera.head_to_clip);
  program.set("uCam", camera.eye_in_head);
  program.set("uKey", to_head * key_lamp());
  program.set("uFill", to_head * fill_lamp());
  program.set("uUp", to_head * vec3(0, 1, 0));
  program.set("uExposure", std::max(static_cast<float>(room), 0.02F));
}

vec4 calc_opening(const Lids& lids, std::size_t side, LidLine line, float margin) {
  const float n0 = lids.temporal_end();
  const float n1 = lids.nasal_end();
  float low = lids.nasal_y();
  float high = low;
  for (int k = 0; k <= 24; ++k) {
    const float n = n0 + (n1 - n0) * static_cast<float>(k) / 24;
    low = std::min(low, lids.lower(n, line));
    high = std::max(high, lids.upper(n, line));
  }
  const float a = lids.x(side, n0);
  const float b = lids.x(side, n1);
  return {std::min(a, b) - margin, low - margin, std::max(a, b) + margin, high + margin};
}

FaceLayer::FaceLayer(const FaceModel& model)
    : model_(&model),
      skin_("skin.vert", "skin.frag"),
      hair_("hair.vert", "hair.frag"),
      hole_("quad.vert", "hole.frag"),
      empty_(gl::VertexArray::make()),
      head_(make_skin_mesh()),
      temples_(make_hair_mesh()),
      brows_{make_hair_mesh(), make_hair_mesh()},
      patches_{make_skin_mesh(), make_skin_mesh()},
      lashes_{make_hair_mesh(), make_hair_mesh()},
      detail_(make_map(model.detail, {true, true, true})),
      pigment_(make_map(model.pigment, {})),
      light_(make_map(model.light, {})) {
  upload(head_, model.head.skin, false);
  upload(temples_, model.temples, false);
  for (const std::size_t side : {0U, 1U}) upload(brows_[side], model.brows[side], false);
}

void FaceLayer::set_quality(Quality quality) {
  if (quality_ == quality) return;
  quality_ = quality;
  fine_ = {};
  coarse_ = {};
  if (!camera_) return;
  make_targets(*camera_);
  coarse_bands_ = kBands;
}

void FaceLayer::make_targets(const Camera& camera) {
  const int w = camera.width;
  const int h = camera.height;
  if (picture_.width() != w || picture_.height() != h) {
    picture_ = gl::RenderTarget(w, h, 1);
    camera_.reset();
  }
  const int rows = calc_fine_rows(h);
  if (fine_.width() != w || fine_.height() != rows) {
    fine_ = gl::RenderTarget(w, rows, quality_ == Quality::kLow ? 1 : kSamples, true);
    coarse_ = {};
    if (quality_ == Quality::kMedium) coarse_ = gl::RenderTarget(w, h, 1, true);
    if (quality_ == Quality::kLow) coarse_ = gl::RenderTarget((w + 1) / 2, (h + 1) / 2, 1, true);
  }
}

std::vector<gl::PixelBox> FaceLayer::update(const scene::Scene& scene, const Camera& camera) {
  make_targets(camera);
  const bool first = !camera_;
  const bool all = first || *camera_ != camera || room_ != scene.light.room;
  camera_ = camera;
  room_ = scene.light.room;
  // A quarter of a pixel is the least that a lid is redrawn for; the gaze itself has no such step.
  const float least = all ? 0.0F : 0.25F * camera.mm_per_pixel;
  std::array<bool, 2> moved{};
  std::array<bool, 2> fast{};
  for (const std::size_t side : {0U, 1U}) {
    const LidLine line = model_->lids->calc_line(side, scene.eyes[side]);
    const bool shut_now = line.top + line.bottom <= 0;
    const bool was_shut = drawn_[side].top + drawn_[side].bottom <= 0;
    moved[side] = all || differs(line, drawn_[side], least) || shut_now != was_shut;
    if (!moved[side]) continue;
    fast[side] = differs(line, drawn_[side], kFastMm);
    drawn_[side] = line;
    build_lids(side);
  }
  const bool fine = quality_ == Quality::kHigh || first;
  std::vector<gl::PixelBox> changed;
  if (all) {
    paint({0, 2, true, {0, 0, camera.width, camera.height}}, fine);
    changed.push_back({0, 0, camera.width, camera.height});
    coarse_bands_ = fine ? 0 : kBands;
    coarse_eye_ = {};
  } else {
    for (const std::size_t side : {0U, 1U}) {
      const Part eye = make_eye(side);
      if (!moved[side] || eye.box.width <= 0 || eye.box.height <= 0) continue;
      paint(eye, fine || !fast[side]);
      changed.push_back(eye.box);
      coarse_eye_[side] = !fine && fast[side];
    }
    if (changed.empty()) changed = refine();
  }
  glDisable(GL_DEPTH_TEST);
  glDisable(GL_SCISSOR_TEST);
  glDisable(GL_BLEND);
  return changed;
}

/// One part of what was drawn coarsely while it moved, and is still now.
std::vector<gl::PixelBox> FaceLayer::refine() {
  if (coarse_bands_ > 0) {
    --coarse_bands_;
    const int h = camera_->height;
    const int y0 = h * coarse_bands_ / kBands;
    const gl::PixelBox band{0, y0, camera_->width, h * (coarse_bands_ + 1) / kBands - y0};
    paint({0, 2, true, band}, true);
    return {band};
  }
  for (const std::size_t side : {0U, 1U}) {
    if (!coarse_eye_[side]) continue;
    coarse_eye_[side] = false;
    const Part eye = make_eye(side);
    if (eye.box.width <= 0 || eye.box.height <= 0) continue;
    paint(eye, true);
    return {eye.box};
  }
  return {};
}

int FaceLayer::repeat_eye() {
  if (!camera_) return 0;
  const Part eye = make_eye(0);
  const int pixels = std::max(eye.box.width, 0) * std::max(eye.box.height, 0);
  if (pixels > 0) paint(eye, true);
  glDisable(GL_DEPTH_TEST);
  glDisable(GL_SCISSOR_TEST);
  glDisable(GL_BLEND);
  return pixels;
}

FaceLayer::Part FaceLayer::make_eye(std::size_t side) const {
  // Of an upright head the skin round the eye fills its box. Of one that is tilted or turned it
  // does not: then everything is drawn that lies in the box.
  const bool upright = camera_->head_to_room == glm::mat3(1);
  if (!upright) return {0, 2, true, calc_lid_box(side)};
  return {side, side + 1, false, calc_lid_box(side)};
}

void FaceLayer::build_lids(std::size_t side) {
  upload(patches_[side], model_->lids->make_patch(side, drawn_[side]), true);
  upload(lashes_[side], make_lashes(model_->who, *model_->lids, side, drawn_[side]), true);
}

gl::PixelBox FaceLayer::calc_lid_box(std::size_t side) const {
  vec2 low(1e9F);
  vec2 high(-1e9F);
  const float x = model_->lids->x(side, 0);
  for (const float dx : {-20.3F, 20.3F}) {
    for (const float y : {-13.4F, 16.0F}) {
      for (const float z : {4.0F, 20.0F}) {
        const vec2 p = camera_->to_pixels({x + dx, y, z});
        low = glm::min(low, p);
        high = glm::max(high, p);
      }
    }
  }
  const auto clip = [](float v, int most) { return std::clamp(static_cast<int>(v), 0, most); };
  const int x0 = clip(low.x, camera_->width);
  const int y0 = clip(low.y, camera_->height);
  return {x0, y0, clip(high.x + 1, camera_->width) - x0, clip(high.y + 1, camera_->height) - y0};
}

void FaceLayer::paint(const Part& part, bool fine) {
  const bool finely = fine || coarse_.width() == 0;
  const int rows = fine_.height();
  // The lids of an upright head lie in one part.
  const int origin = std::min(calc_lid_box(0).y, calc_lid_box(1).y);
  const int lowest = finely ? find_base(part.box.y, origin, rows) : 0;
  if (finely && part.box.y + part.box.height > lowest + rows) {
    Part below = part;
    below.box.height = lowest + rows - part.box.y;
    paint(below, fine);
    Part above = part;
    above.box.y = lowest + rows;
    above.box.height = part.box.height - below.box.height;
    paint(above, fine);
    return;
  }
  const gl::RenderTarget& target = finely ? fine_ : coarse_;
  const int by = target.width() < camera_->width ? 2 : 1;
  // Whole pixels of the target, so that nothing beside the box is touched.
  gl::PixelBox small{part.box.x / by, part.box.y / by, 0, 0};
  small.width = (part.box.x + part.box.width + by - 1) / by - small.x;
  small.height = (part.box.y + part.box.height + by - 1) / by - small.y;
  drawn_mm_ = camera_->mm_per_pixel * static_cast<float>(by);
  const vec3 wall = kWall * std::max(static_cast<float>(room_), 0.02F);
  glEnable(GL_FRAMEBUFFER_SRGB);
  glBindFramebuffer(GL_FRAMEBUFFER, target.framebuffer());
  glViewport(0, -lowest, camera_->width / by, camera_->height / by);
  glEnable(GL_SCISSOR_TEST);
  glScissor(small.x, small.y - lowest, small.width, small.height);
  glDepthMask(GL_TRUE);
  glClearColor(wall.r, wall.g, wall.b, 1);
  glClear(GL_COLOR_BUFFER_BIT | GL_DEPTH_BUFFER_BIT);
  paint_skin(part.from, part.to, part.all, room_);
  paint_hair(part.from, part.to, part.all, room_);
  glDisable(GL_SCISSOR_TEST);
  if (by == 1) {
    const gl::PixelBox& box = part.box;
    if (box.width <= 0 || box.height <= 0) return;
    glBindFramebuffer(GL_READ_FRAMEBUFFER, target.framebuffer());
    glBindFramebuffer(GL_DRAW_FRAMEBUFFER, picture_.framebuffer());
    glBlitFramebuffer(box.x, box.y - lowest, box.x + box.width, box.y + box.height - lowest, box.x,
                      box.y, box.x + box.width, box.y + box.height, GL_COLOR_BUFFER_BIT,
                      GL_NEAREST);
  } else {
    gl::copy_scaled(target.framebuffer(), small, picture_.framebuffer(),
                    {small.x * by, small.y * by, small.width * by, small.height * by});
  }
}

void FaceLayer::paint_holes(std::size_t from, std::size_t to, double room) {
  // After the head and before the lids: whatever lies behind the eye, such as the far temple of a
  // turned head, must not show through its opening.
  hole_.use();
  set_light(hole_, *camera_, room);
  glBindVertexArray(empty_.id());
  hole_.set("uQuadZ", 4.0F + model_->who.prominence_mm);
  for (std::size_t side = from; side < to; ++side) {
    hole_.set("uQuad", calc_opening(*model_->lids, side, drawn_[side], 0.6F));
    glDrawArrays(GL_TRIANGLES, 0, 6);
  }
}

void FaceLayer::paint_skin(std::size_t from, std::size_t to, bool all, double room) {
  const scene::PatientAppearance& who = model_->who;
  glDisable(GL_BLEND);
  glEnable(GL_DEPTH_TEST);
  glDepthMask(GL_TRUE);
  skin_.use();
  set_light(skin_, *camera_, room);
  skin_.set("uMapBox",
            vec4(kSkin.x0, kSkin.y0, 1 / (kSkin.x1 - kSkin.x0), 1 / (kSkin.y1 - kSkin.y0)));
  skin_.set("uSkin", vec4(who.melanin, who.blood, who.yellow, who.shine));
  skin_.set("uMicro",
            vec3(who.pores, who.pores * 0.8F + who.coarse_pores, who.interpupillary_mm * 0.5F));
  const vec3 roots = glm::clamp(to_vec(who.hair) * 2.2F + 0.34F, 0.0F, 0.95F);
  skin_.set("uHairTint",
            glm::mix(vec3(1), roots, std::clamp(who.brow_density * 0.72F, 0.0F, 0.85F)));
  const float texels = drawn_mm_ * 512;
  skin_.set("uLod", glm::max(vec2(std::log2(texels / 16), std::log2(texels / 41)) - 0.35F, 0.0F));
  skin_.set("uDetail", 0);
  skin_.set("uPigment", 1);
  skin_.set("uLight", 2);
  gl::bind_texture(2, light_.id());
  gl::bind_texture(1, pigment_.id());
  gl::bind_texture(0, detail_.id());
  const std::array<std::size_t, 4>& first = model_->head.first;
  glEnable(GL_CULL_FACE);  // else a turned head shows its far side through the opening of an eye
  if (all) {
    head_.draw();
  } else {
    head_.draw_range(first[from], first[from + 1] - first[from]);
  }
  glDisable(GL_CULL_FACE);
  paint_holes(from, to, room);
  skin_.use();
  for (std::size_t side = from; side < to; ++side) patches_[side].draw();
}

void FaceLayer::paint_hair(std::size_t from, std::size_t to, bool all, double room) {
  const scene::PatientAppearance& who = model_->who;
  glEnable(GL_BLEND);
  glBlendFunc(GL_ONE, GL_ONE_MINUS_SRC_ALPHA);
  glEnable(GL_DEPTH_TEST);
  glDepthMask(GL_FALSE);
  hair_.use();
  set_light(hair_, *camera_, room);
  hair_.set("uPixel", drawn_mm_);
  hair_.set("uColour", to_vec(who.hair));
  hair_.set("uOpacity", 0.86F);
  if (all) temples_.draw();
  for (std::size_t side = from; side < to; ++side) brows_[side].draw();
  // Lashes of fair people are darker than their brows.
  hair_.set("uColour", glm::min(to_vec(who.hair) * 0.75F, vec3(0.045F, 0.033F, 0.026F)));
  hair_.set("uOpacity", 0.92F);
  for (std::size_t side = from; side < to; ++side) lashes_[side].draw();
  glDepthMask(GL_TRUE);
}

}  // namespace redress::face
