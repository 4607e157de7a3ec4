// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Letters of a chart: how high they are, and acuity in the ways it is written. A letter of logMAR m
// subtends five minutes of arc times 10^m (ISO 8596).
#pragma once

#include <string>

#include "sim/basics/units.hpp"

namespace redress::optics {

/// Height of a letter of this size for a patient at this distance (above 0).
Millimetres letter_height(double distance_m, double size_logmar);

/// The acuity that reads a line made for `letter_m` from `test_m`, as in 6/12: log10 of the minimum
/// angle of resolution. Both above 0.
double to_logmar(double test_m, double letter_m);

/// As a fraction of six metres, "6/12", with the denominators that charts print: steps of 0.1 below
/// 7, of a half below 10, whole numbers above.
std::string to_snellen(double logmar);

/// How large a printed or drawn letter may be: 5 % either way (ISO 10938).
inline constexpr double kLetterTolerance = 0.05;

}  // namespace redress::optics
