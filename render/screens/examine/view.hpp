// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// How the patient's rectangle shows millimetres. Pixels are those of the framebuffer, from the
// rectangle's upper left corner; millimetres lie in the frontal plane of the pupils.
#pragma once

#include <cstdint>

#include "sim/basics/eye.hpp"
#include "sim/room/act.hpp"

namespace redress::screens::examine {

/// Both eyes; one eye, 75 mm across; close, 45 mm across.
enum class Closeness : std::uint8_t { both, one_eye, close };

/// What the layout gives.
struct ViewFrame {
  double width_px = 1440;
  double height_px = 700;
  double eyes_x_px = 720;  ///< midpoint of the eyes, in the view that shows both
  double eyes_y_px = 300;
  double pixels_per_mm = 8.5;   ///< in that view
  double free_width_px = 1440;  ///< of the part that an open card leaves free
  bool operator==(const ViewFrame&) const = default;
};

/// What is shown now: which point is where, and how many pixels to a millimetre.
struct ShownView {
  double centre_x_px = 0;
  double centre_y_px = 0;
  double x_mm = 0;  ///< + to the patient's right
  double y_mm = 0;
  double pixels_per_mm = 8.5;
  bool operator==(const ShownView&) const = default;
};

/// What the record says of it.
act::Magnify calc_magnify(Closeness closeness, Eye eye);
/// The one that is nearest to it.
Closeness find_closeness(const act::Magnify& said);

ShownView calc_view(const ViewFrame& frame, Closeness closeness, Eye eye, double interpupillary_mm);

/// The eye turns its front by so many millimetres for a prism dioptre (12 mm from the centre of
/// rotation to where the iris is judged).
inline constexpr double kMmPerPrismDioptre = 0.12;

}  // namespace redress::screens::examine
