// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// What is found on request beside the cover test. Every patient has an answer to every request of
// the list, so that nobody can read from "not on file" that something is amiss, or that nothing is.
//
// From the case's own numbers where they decide: acuity, pinhole, refraction, spectacles, stereo,
// pupils, lids, fixation, torsion. What else is not written is as in health. Words and healthy
// findings: common practice, no source; stereopsis of 60 seconds of arc and better is the usual
// limit of health, that of a suppressed fovea coarser than 200 (from memory).
#pragma once

#include <span>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "sim/cases/case.hpp"
#include "sim/room/examination.hpp"

namespace redress {

/// Everything that can be asked for, the same for every patient, in the order of practice.
[[nodiscard]] std::span<const std::string_view> file_requests();

/// Request -> finding: all of file_requests(), and what the case has beyond them. `setup`: of the
/// same case, for what the engine knows (torsion).
[[nodiscard]] std::vector<std::pair<std::string, std::string>> make_file(
    const Case& the_case, const ExaminationSetup& setup);

}  // namespace redress
