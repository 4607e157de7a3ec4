// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// What a patient at rest comes to, solved and not waited for: an opening is a steady state already
// (patient::opening_state), and whether fusion holds or comes back follows from what is asked of it
// and its limits. Only where nothing takes minutes, beats, tires or lets go by itself, and where no
// limit is so near that the way there decides; elsewhere nothing is returned and the engine is run
// (tests/truth/solved_test.cpp holds the two within 0.05 prism dioptres of each other).
#pragma once

#include <functional>
#include <optional>
#include <span>

#include "sim/truth/conditions.hpp"
#include "sim/truth/dissociated.hpp"
#include "sim/truth/truth.hpp"

namespace redress::truth {

/// One eye has fixed for as long as it takes and the other saw nothing.
struct Apart {
  Deviation deviation;
  bool reaches = true;  ///< the fixing eye gets to the target; else the rest is not to be told
  bool spectacles = false;
  UsedLens lens = UsedLens::none;
  std::optional<optics::NeutralisingLabel> label;  ///< before the other eye
};
/// Nothing where it has to be run, also where the fixing eye does not get to the target.
std::optional<Apart> solve_apart(const ExaminationSetup& setup, const Opening& opening, Eye fixing);
Apart run_apart(const ExaminationSetup& setup, const Opening& opening, Eye fixing);
/// Solved, or else run.
Apart calc_apart(const ExaminationSetup& setup, const Opening& opening, Eye fixing);

/// As run_manifest, but for the eye that deviates; nothing where it has to be run.
std::optional<ManifestFinding> solve_manifest(const ExaminationSetup& setup,
                                              const Opening& opening);

/// Whether this patient, attentive and with `least_deg` of room within what fusion holds, cannot
/// come apart without a cover.
bool is_held_for_sure(const ExaminationSetup& setup, double distance_m, double least_deg);

/// The farthest distance, to a centimetre, at which a target as near as that is not held; 0 where
/// one is held at every distance down to `nearest_m`; nothing where it has to be run.
std::optional<double> solve_near_limit_m(const ExaminationSetup& setup, double farthest_m,
                                         double nearest_m);

/// Whether the eyes hold behind a label when they come to it from another, run.
using HoldsAfter = std::function<bool(double from_pd, double to_pd)>;
/// A prism bar before the left eye, as run_reserves reads it; steps so near a limit that only
/// running tells are left to `holds_after`. Nothing where all has to be run.
std::optional<ReserveReading> solve_reserve(const ExaminationSetup& setup, double distance_m,
                                            double base_deg, std::span<const double> bar,
                                            const HoldsAfter& holds_after);

}  // namespace redress::truth
