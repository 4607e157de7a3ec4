// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Icons of strokes of 1.8 in a box of 24; always beside a word.
#pragma once

#include <cstdint>

#include "render/screens/parts/ui.hpp"

namespace redress::screens {

enum class Icon : std::uint8_t {
  none,
  back,
  forward,
  down,
  speech,
  caution,
  check,
  cross,
  half,
  card,
  play,
  pause,
  minus,
  plus,
  search,
  star,
  star_full,
  eye,
  occluder,
  pull,
  clock,
  note,
};

/// Middle at `centre`; `size` is the side of the box in units.
void icon(Ui& ui, Icon which, Point centre, Token token, float size = 18);

}  // namespace redress::screens
