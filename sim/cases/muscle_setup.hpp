// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The muscles of a case as the plant takes them.
#pragma once

#include <optional>

#include "sim/cases/case.hpp"
#include "sim/patient/muscles.hpp"

namespace redress {

/// `tired`: after a minute of looking up.
patient::EyeMuscles eye_muscles_of(const Case& the_case, Eye eye, bool tired);

/// The first command (muscle frame) at which this eye finds no rest. With `made` at every node of
/// its table, which is taken from there or made; else, and where that is solved when it is read, at
/// every tenth degree, in a few milliseconds.
std::optional<patient::Direction3> find_restless(const Case& the_case, Eye eye, bool tired,
                                                 const patient::Muscles* made);

/// Plants and skew; tables that are in `made` are taken from there.
patient::Muscles muscles_of(const Case& the_case, const patient::Muscles& made);

/// The largest deviation, degrees, that the muscles make straight ahead, whichever eye fixes: how
/// far suppression has to reach beyond what `deviation` writes.
double calc_muscle_deviation_deg(const Case& the_case);

}  // namespace redress
