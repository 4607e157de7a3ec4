// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The plots of the reports, each with its words.
#pragma once

#include <optional>
#include <vector>

#include "sim/assessment/cohort.hpp"
#include "sim/assessment/report_document.hpp"

namespace redress::assessment {

/// Candidates by total mark in classes of five; the pass mark, the band of its error, and, for a
/// candidate's page, where that candidate stands.
Plot plot_distribution(const CohortFigures& figures, std::optional<double> own = std::nullopt);

/// Written minus true over their mean, prism dioptres, by size without sign; bias and limits.
Plot plot_agreement(const std::vector<SizePair>& sizes, const BlandAltman& agreement);

/// Generalisability against the number of stations, with the wanted 0.80.
Plot plot_reliability(const CohortFigures& figures);

}  // namespace redress::assessment
