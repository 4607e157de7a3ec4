// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// For whoever sets up or checks one case after another: the tables of weak muscles, which take most
// of the time, are taken from an earlier setup where the muscles are the same; and for who only
// looks at a draft, their nodes are solved when they are read.
#pragma once

#include "sim/cases/case_file.hpp"
#include "sim/cases/setup.hpp"
#include "sim/patient/muscles.hpp"

namespace redress {

/// The tables of one eye, taken from `made` or made; nothing for a healthy eye.
std::optional<patient::EyePlant> eye_plant_of(
    const Case& the_case, Eye eye, bool tired, const patient::Muscles& made,
    patient::NodesSolved when = patient::NodesSolved::at_once);

/// The setup of a draft to look at: tables that are not in `made` are solved where they are read.
/// What comes of it is that of setup_of to a ten-thousandth of a prism dioptre, not to the last
/// bit: for what is shown, never for what is recorded.
ExaminationSetup set_up_draft(const Case& the_case, const patient::Muscles& made);

/// As setup_of and check_meaning without `made`.
ExaminationSetup setup_of(const Case& the_case, const patient::Muscles& made);
Problems check_meaning(const Case& the_case, Problems* warnings, const patient::Muscles& made);

}  // namespace redress
