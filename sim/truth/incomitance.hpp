// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// What an incomitant deviation looks like, told from the gazes and head tilts of the truth alone:
// a restriction, a weak muscle of one eye and a tight one of the other can look alike.
#pragma once

#include <string>

#include "sim/truth/truth.hpp"

namespace redress::truth {

/// "as from a weak right superior oblique", "largest in up and left gaze"; empty where comitant.
///
/// Verticals by three steps (sim/truth/criteria.hpp), each of which has to differ by 2 or more:
/// what a student reads (practice: 4 is too little at 30 to 45 degrees of tilt, from memory).
/// Horizontals: an esodeviation that grows by 10 or more towards one side is an eye that does not
/// abduct, an exodeviation one that does not adduct.
std::string name_incomitance(const Truth& truth);

}  // namespace redress::truth
