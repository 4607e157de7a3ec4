// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// What stands beside the size of a deviation: in which gaze or tilt of the head, which eye fixed,
// what moved on cover and uncover, what else was seen. Each phrase is a finding of which only the
// fields that it says are set, so that reading and writing stay side by side. Fields: practice
// §2.7. Terms: common practice, no source, but for DVD, A and V (clinical §9).
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "sim/room/finding.hpp"

namespace redress::findings {

inline constexpr double kUsualGazeDeg = 25.0;  ///< "R gaze" without a number: practice B18
inline constexpr double kUsualTiltDeg = 30.0;  ///< "tilt R": contract, truth

/// Words in capitals, apart by one space: "UP-R GAZE", "RE OUT ON COVER", "V PATTERN". Without an
/// angle the usual one is set.
std::optional<Finding> find_beside(std::string_view phrase);

/// Sets in `into` what `said` has. Remarks and head postures are added.
void add_said(Finding& into, const Finding& said);
[[nodiscard]] bool says_something(const Finding& said);
/// A gaze or a tilt of the head.
[[nodiscard]] bool has_position(const Finding& finding);
[[nodiscard]] bool has_shortfall(const Finding& finding);

/// "up-R gaze", "L gaze 15°", "tilt R", "primary"; empty where there is none.
std::string write_position(const Finding& finding);
/// "RE short of abduction, LE full".
std::string write_shortfall(const Finding& finding);
/// Everything else, in one order: "V pattern excyclo 5° DVD fix R".
std::string write_beside(const Finding& finding);

/// The same in plain words: "looking up and to the right", "the right eye fixing".
std::string position_words(const Finding& finding);
std::string beside_words(const Finding& finding);

}  // namespace redress::findings
