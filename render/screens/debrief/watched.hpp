// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// An examination run once more, for marking and for drawing at once; and what both of the debrief's
// pages say of it in the same words.
#pragma once

#include <span>

#include "render/screens/debrief/debrief_model.hpp"
#include "render/screens/debrief/playback.hpp"
#include "sim/findings/checkpoints.hpp"
#include "sim/findings/evidence.hpp"
#include "sim/room/examination.hpp"

namespace redress::screens::debrief {

struct Watched {
  findings::Evidence evidence;
  Playback playback;
};
/// Up to and including the row of `last`. Keeps states in `keep`, if there is one.
Watched watch(const ExaminationSetup& setup, std::span<const Act> acts, Chance chance, Tick last,
              findings::Checkpoints* keep = nullptr);
/// The same without what comes before the last state that these acts have in common with others,
/// at `from` at the latest: the playback begins there, the evidence at the beginning.
Watched watch_from(const findings::Checkpoints& states, const ExaminationSetup& setup,
                   std::span<const Act> acts, Chance chance, Tick from, Tick last);

MovementTag make_tag(const findings::Movement& movement);
/// Half prism dioptres up to 5, whole ones above: more is not seen. "2.5Δ".
std::string say_size(double pd);

}  // namespace redress::screens::debrief
