// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// What the page "What if" shows, computed from the text of a record alone: each habit with its
// price, and the same stretch of the examination as it was done and with that habit mended. Pure.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "render/screens/debrief/debrief_model.hpp"
#include "render/screens/debrief/reviewed.hpp"
#include "render/screens/parts/plots.hpp"
#include "sim/basics/problem.hpp"
#include "sim/scoring/what_if.hpp"

namespace redress::screens::debrief {

/// One eye for some seconds.
struct Excerpt {
  double from_ms = 0;
  double to_ms = 1;
  std::vector<float> values_pd;  ///< of every kFrameMs from from_ms; NaN while the lids are shut
  std::vector<CoverInterval> covers;
  std::vector<MovementTag> movements;
  Playback playback;  ///< of these seconds
};

struct PricedHabit {
  std::string done;  ///< "Covers of 1.2 s"
  std::string instead;
  std::string headline;  ///< as a teacher would say it
  std::string about;     ///< which eye, where
  double marks = 0;      ///< what it cost; below 0 where chance had it otherwise
  double size_pd = 0;
  double total = 0;  ///< with this one mended
  Eye eye = Eye::right;
  Excerpt as_done;
  Excerpt mended;
  double most_pd = 6;  ///< the scale of both
  scoring::Difference difference;
};

struct WhatIfModel {
  double total = 0;
  std::vector<PricedHabit> habits;  ///< dearest first
  std::optional<double> all_mended;
};

/// From what a debrief was made of. Prices are marks of `column`.
WhatIfModel make_what_if(const Reviewed& reviewed,
                         scoring::Column column = scoring::Column::formative);
/// Refused as make_debrief() refuses.
redress::Result<WhatIfModel> make_what_if(std::string_view record_text,
                                          scoring::Column column = scoring::Column::formative);

}  // namespace redress::screens::debrief
