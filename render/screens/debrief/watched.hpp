// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// An examination run once more, for marking and for drawing at once; and what both of the debrief's
// pages say of it in the same words.
#pragma once

#include <span>

#include "render/screens/debrief/debrief_model.hpp"
#include "render/screens/debrief/playback.hpp"
#include "sim/cases/case.hpp"
#include "sim/findings/evidence.hpp"
#include "sim/findings/record_card.hpp"
#include "sim/room/examination.hpp"
#include "sim/truth/truth.hpp"

namespace redress::screens::debrief {

struct Watched {
  findings::Evidence evidence;
  Playback playback;
};
/// Up to and including the row of `last`.
Watched watch(const ExaminationSetup& setup, std::span<const Act> acts, Chance chance, Tick last);

/// The truth as far as the card asks for it: reserves and the near point take long to compute.
truth::Truth find_truth(const Case& the_case, const ExaminationSetup& setup,
                        const findings::RecordCard& card);

MovementTag make_tag(const findings::Movement& movement);
/// Half prism dioptres up to 5, whole ones above: more is not seen. "2.5Δ".
std::string say_size(double pd);

}  // namespace redress::screens::debrief
