// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// For whoever sets up or checks one case after another: the tables of weak muscles, which take most
// of the time, are taken from an earlier setup where the muscles are the same.
#pragma once

#include "sim/cases/case_file.hpp"
#include "sim/cases/setup.hpp"
#include "sim/patient/muscles.hpp"

namespace redress {

/// The tables of one eye, taken from `made` or made; nothing for a healthy eye.
std::optional<patient::EyePlant> eye_plant_of(const Case& the_case, Eye eye, bool tired,
                                              const patient::Muscles& made);

/// As setup_of and check_meaning without `made`.
ExaminationSetup setup_of(const Case& the_case, const patient::Muscles& made);
Problems check_meaning(const Case& the_case, Problems* warnings, const patient::Muscles& made);

}  // namespace redress
