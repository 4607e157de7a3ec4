// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The plots of the report, as SVG inside HTML; what this version does not simulate says so in words
// in the plot's place.
#pragma once

#include <string>

namespace redress::evidence {

/// Peak velocity of the saccades made over their size, with the published norms.
std::string plot_main_sequence();

/// Both eyes' lines of sight under cover and after it, one panel a patient.
std::string plot_covers();

/// Where the other eye stands in nine gazes, with either eye fixing.
std::string plot_nine_gazes();

/// Vertical deviation over head tilt.
std::string plot_head_tilt();

}  // namespace redress::evidence
