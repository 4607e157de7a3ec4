// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The patient's picture in the window: made on another thread while something else is shown, then
// drawn from a scene. Needs a current OpenGL context.
#pragma once

#include <functional>
#include <future>
#include <memory>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "render/draw/patient_picture.hpp"
#include "render/gl/texture.hpp"
#include "render/scene/scene.hpp"
#include "render/screens/layout.hpp"

namespace redress::app {

/// A rectangle in units as the box of pixels that it covers, origin at the bottom left.
gl::PixelBox to_box(const screens::Rect& r, float scale, int height_px);

class Stage {
 public:
  /// Begins to make this person, unless it stands there already. Whoever stood there goes.
  void call(const scene::PatientAppearance& who);
  void send_away();
  /// Everything in the context is let go: the same person is made again, and waited for by wait().
  void forget_graphics();
  /// Takes what the other thread finished; true while the person can be drawn.
  bool is_ready();
  /// The picture may be as good as this machine is fast: for a window in real time. Otherwise it
  /// follows from the scene alone.
  void follow_speed() { follows_speed_ = true; }
  /// Which of the examiner's hands holds the occluder.
  void hold_with_left(bool left) { left_hand_ = left; }
  /// Waits until the person can be drawn.
  void wait();
  /// Into framebuffer 0. The rectangle's lower edge may lie below what is drawn into.
  void draw(const scene::Scene& scene, gl::PixelBox box, GLuint target = 0);

 private:
  void finish();

  std::optional<scene::PatientAppearance> wanted_;
  std::future<face::FaceModel> making_;
  std::unique_ptr<draw::PatientPicture> picture_;
  bool follows_speed_ = false;
  bool left_hand_ = false;
  int drawn_ = 0;  // pictures of this person
};

/// Small pictures of people with both eyes posed straight, 3 : 1, made one after another for those
/// who are to be seen. A person is known by a key; who belongs to it is asked on another thread.
class Thumbnails {
 public:
  static constexpr int kWidth = 240;
  static constexpr int kHeight = 84;
  static constexpr std::size_t kMost = 120;  ///< kept, those last wanted: 10 MB

  /// None: there is nobody of that key, and no picture.
  using Portrait = std::function<std::optional<scene::PatientAppearance>(const std::string& key)>;
  explicit Thumbnails(Portrait portrait) : portrait_(std::move(portrait)) {}

  /// What is to be seen now, in order.
  void want(std::vector<std::string> keys);
  /// Does a little of the work; true: another one is there.
  bool work();
  /// Waits for the next one.
  void wait() {
    if (making_.valid()) making_.wait();
  }
  [[nodiscard]] bool done() const { return find_next() == nullptr; }
  /// This person may have changed.
  void forget(const std::string& key);
  /// All pictures are let go and made again.
  void forget_graphics();
  /// 0: not yet.
  [[nodiscard]] GLuint texture(const std::string& key) const;

 private:
  struct Made {
    std::string key;
    std::optional<gl::TextureHandle> texture;  // none: nobody
  };
  [[nodiscard]] const Made* find(const std::string& key) const;
  [[nodiscard]] const std::string* find_next() const;

  Portrait portrait_;
  std::vector<std::string> wanted_;
  std::vector<Made> made_;  // those last wanted at the end
  std::string making_key_;
  std::future<std::optional<face::FaceModel>> making_;
};

}  // namespace redress::app
