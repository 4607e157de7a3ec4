// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Simulated measurements that the parts of the truth share. Noise and slow adaptation off.
#pragma once

#include <optional>

#include "sim/optics/sight.hpp"
#include "sim/room/examination.hpp"
#include "sim/truth/truth.hpp"

namespace redress::truth {

inline constexpr Chance kCalm{1, 0.0, false};

/// A target that any eye that sees form can make out, so that the truth does not depend on a choice
/// of letters: letters, large.
act::ShowTarget plain_target(double distance_m, double horizontal_deg = 0.0,
                             double vertical_deg = 0.0);

/// Directions of the two eyes' deviation for a target, prism dioptres and degrees.
struct Deviation {
  double horizontal_pd = 0.0;
  double vertical_pd = 0.0;
  double torsion_deg = 0.0;
};

/// The deviation that stands now, against the directions to the target without prisms and lenses.
Deviation calc_deviation(const Examination& exam);

/// By how much the eyes together miss where the target appears to each, through whatever is before
/// them: no more than fixation disparity in a patient who fuses through spectacles with a prism.
Deviation calc_misalignment(const Examination& exam);

/// The prism that neutralises what stands now, held before this eye in front of its spectacles; the
/// beat of a nystagmus, in which both eyes turn alike, is left out.
std::optional<optics::NeutralisingLabel> calc_neutralising(const Examination& exam, Eye eye);

/// An examination in which one eye has fixed for as long as it takes and the other saw nothing.
Examination dissociate(const ExaminationSetup& setup, const Opening& opening, Eye fixing);

/// Whether the eye sees the plain target and its muscles get it there, within a degree. A seeing
/// eye with healthy muscles is always taken to: why else it may look past the target is not theirs
/// to tell.
bool reaches_target(const Examination& exam, Eye eye);

/// The deviation fully dissociated.
Deviation calc_dissociated(const ExaminationSetup& setup, const Opening& opening, Eye fixing);

void wait(Examination& exam, Tick ms);

}  // namespace redress::truth
