// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The two figures of the cohort report as SVG inside HTML, in greys, each with its text.
#pragma once

#include <string>
#include <vector>

#include "sim/assessment/cohort.hpp"

namespace redress::assessment {

/// Candidates by total mark in classes of five; the pass mark and the band of its error.
std::string plot_distribution(const CohortFigures& figures);

/// Written minus true over their mean, prism dioptres, by size without sign; bias and limits.
std::string plot_agreement(const std::vector<SizePair>& sizes, const BlandAltman& agreement);

}  // namespace redress::assessment
