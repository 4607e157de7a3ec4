// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Train your eye in the window: shows the covers in time, takes the answers from mouse, keys and
// controller, and gives the finished drill back.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "render/app/stage.hpp"
#include "render/screens/drill/drill_screen.hpp"
#include "render/window/input.hpp"
#include "sim/drill/movement.hpp"
#include "sim/progress/history.hpp"

namespace redress::app {

class Training {
 public:
  explicit Training(std::uint64_t seed);

  [[nodiscard]] const scene::PatientAppearance& appearance() const;
  /// `focused` is the part that has the keys, empty if none.
  void advance(const std::vector<window::InputEvent>& events, double now_ms, bool patient_is_there,
               const std::string& focused);
  void draw_patient(Stage& stage, const screens::WindowSize& window) const;
  /// `screen_pixels_per_mm`: of this screen; none: not known. `trouble`: why it was not kept.
  screens::DrillOutcome draw(screens::Ui& ui, const screens::WindowSize& window,
                             std::optional<double> screen_pixels_per_mm,
                             const std::string& trouble);
  /// The drill once it is done, said once. Learner and time are the caller's.
  std::optional<progress::DrillEntry> take_done();
  [[nodiscard]] bool is_live() const { return !drill_.done() && !shown_.over; }
  [[nodiscard]] const drill::Drill& drill() const { return drill_; }

 private:
  void take_key(window::Key key, double at_ms, const std::string& focused);
  void take_pad(window::PadButton button);
  void answer();
  /// Asked once, as by the button: what is stopped is not kept.
  void stop();

  drill::Drill drill_;
  screens::DrillState state_;
  drill::Shown shown_;
  std::optional<double> began_ms_;  // of the pair, when the patient could be seen
  std::optional<double> typed_;
  double typed_at_ms_ = -1e9;
  double magnification_ = 0;
  bool patient_is_there_ = false;
  bool told_ = false;
  bool stopped_ = false;
};

}  // namespace redress::app
