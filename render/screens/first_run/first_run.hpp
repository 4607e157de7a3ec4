// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// What is asked once: who, name, hand, shorthand, room, text size; then how large this screen is,
// by holding a card of ID-1 size against an outline.
#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>

#include "render/screens/layout.hpp"
#include "render/screens/parts/parts.hpp"

namespace redress::screens {

inline constexpr float kTextScales[] = {1.0F, 1.25F, 1.5F, 2.0F};

struct FirstRunModel {
  std::size_t role = 0;  ///< learning, teaching, examining
  std::string name;
  std::size_t hand = 0;       ///< right, left, none
  std::size_t shorthand = 0;  ///< UK, US, hospital
  std::size_t room = 0;       ///< dim, light
  std::size_t text_size = 0;  ///< index into kTextScales
  float largest_scale = 2;    ///< that this window has room for
  std::string trouble;
};
struct FirstRunOutcome {
  bool next = false;
  bool text_size_changed = false;
};
FirstRunOutcome draw_first_run(Ui& ui, const FirstRunLayout& layout, FirstRunModel& model);

/// ISO/IEC 7810: an ID-1 card is 85.60 x 53.98 mm, its corners of radius 2.88 ... 3.48 mm.
inline constexpr double kCardWidthMm = 85.60;
inline constexpr double kCardHeightMm = 53.98;
inline constexpr double kCardCornerMm = 3.18;

struct CalibrateModel {
  double pixels_per_mm = 3.78;  ///< of this screen, real pixels; 96 dots an inch to begin with
  int screen_width_px = 1920;
  double view_pixels_per_mm = 8.5;  ///< of the view with both eyes, real pixels
  double eye_distance_cm = 60;
  bool first_run = true;  ///< "Step 2 of 2"
};
struct CalibrateOutcome {
  bool back = false;
  bool later = false;
  bool done = false;
};
CalibrateOutcome draw_calibrate(Ui& ui, const StudyLayout& layout, CalibrateModel& model);

/// The readout's numbers, for tests and the room: how much larger than life, and what one prism
/// dioptre (0.12 mm at the iris) measures on this screen.
struct ShownSize {
  double magnification = 0;
  double prism_dioptre_mm = 0;
};
ShownSize calc_shown_size(double view_pixels_per_mm, double screen_pixels_per_mm);

}  // namespace redress::screens
