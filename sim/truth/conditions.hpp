// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Deviation, neutralising prism and what is manifest, at one distance and correction.
#pragma once

#include "sim/truth/dissociated.hpp"
#include "sim/truth/truth.hpp"

namespace redress::truth {

/// Whether and how the eyes are out of line: 10 s open, each eye covered for 10 s in turn, 10 s
/// open. Constant if not fused before (or held at an angle), intermittent if fused before and not
/// in the last second.
struct ManifestFinding {
  Manifest manifest = Manifest::none;
  DeviatingEye deviating_eye = DeviatingEye::none;
  Deviation deviation;
};

/// Solved where it can be (sim/truth/solved.hpp), else run.
ManifestFinding calc_manifest(const ExaminationSetup& setup, const Opening& opening);
ManifestFinding run_manifest(const ExaminationSetup& setup, const Opening& opening);

/// The same patient when a spasm of the near reflex has let go.
ExaminationSetup without_spasm(ExaminationSetup setup);

/// Without the manifest part.
Condition calc_dissociated_condition(const ExaminationSetup& setup, const Opening& opening,
                                     Eye fixing);

void apply_manifest(const ManifestFinding& found, Condition& condition);

}  // namespace redress::truth
