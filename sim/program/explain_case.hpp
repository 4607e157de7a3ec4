// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// What the engine makes of a case, in plain words, for whoever writes it: findings, name, control,
// and what does not agree. Prism dioptres, eso +, right eye higher +.
#pragma once

#include <string>
#include <vector>

#include "sim/cases/case.hpp"
#include "sim/truth/truth.hpp"

namespace redress::program {

/// A line for each contradiction between what the case expects and what the engine computes; they
/// are advice to the author, no faults: the case stays valid.
std::vector<std::string> find_disagreements(const Case& the_case, const truth::Truth& found);

/// Table of findings, the name they come to, control, reserves, near point, disagreements.
std::string explain_findings(const Case& the_case, const truth::Truth& found);

}  // namespace redress::program
