// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Every part in its states on one page, for whoever builds screens and for the picture tests.
#pragma once

#include <string>
#include <vector>

#include "render/screens/parts/plots.hpp"
#include "render/screens/parts/room_parts.hpp"

namespace redress::screens {

struct GalleryModel {
  std::optional<std::size_t> direction = 1;
  double size_pd = 8;
  std::string typed = "10";
  std::string unread = "XOF";
  std::size_t step = 4;
  std::vector<float> right;  ///< made traces, a value each 10 ms
  std::vector<float> left;
};
/// Closed-form traces of an invented exophoria.
GalleryModel make_gallery();
/// In the Ui's theme, in a column of 700 units.
void draw_gallery(Ui& ui, const Rect& r, GalleryModel& model);

}  // namespace redress::screens
