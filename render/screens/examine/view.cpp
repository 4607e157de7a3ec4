// SPDX-License-Identifier: MIT
// Copyright the Redress authors
#include "render/screens/examine/view.hpp"

namespace redress::screens::examine {

namespace {

// screens.md, section 2. Both eyes are what an act says by itself (its section 5).
constexpr double kOneEyeMm = 75.0;
constexpr double kCloseMm = 45.0;

}  // namespace

act::Magnify calc_magnify(Closeness closeness, Eye eye) {
  if (closeness == Closeness::both) return {};
  return {closeness == Closeness::one_eye ? kOneEyeMm : kCloseMm, eye};
}

Closeness find_closeness(const act::Magnify& said) {
  if (!said.eye) return Closeness::both;
  return said.across_mm > (kOneEyeMm + kCloseMm) / 2 ? Closeness::one_eye : Closeness::close;
}

ShownView calc_view(const ViewFrame& frame, Closeness closeness, Eye eye,
                    double interpupillary_mm) {
  ShownView view{frame.eyes_x_px, frame.eyes_y_px, 0, 0, frame.pixels_per_mm};
  if (closeness == Closeness::both) return view;
  // In the middle of what the card leaves free, be it open or not: nothing shifts with it.
  view.centre_x_px = frame.free_width_px / 2;
  view.x_mm = side_of(eye) * interpupillary_mm / 2;
  view.pixels_per_mm = frame.width_px / (closeness == Closeness::one_eye ? kOneEyeMm : kCloseMm);
  return view;
}

}  // namespace redress::screens::examine
