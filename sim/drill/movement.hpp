// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// What the eye and the occluder do during a pair of covers. Under the cover of one of the two the
// eye is turned away by the size; uncovered, it comes back with the saccade that an eye makes for
// that distance: amplitude, main sequence and waveform are the patient's own
// (sim/patient/saccade.hpp, Dai et al. 2016). Times in milliseconds from the beginning of the pair,
// angles in degrees, in the signs of sim/basics/eye.hpp.
#pragma once

#include "sim/basics/eye.hpp"
#include "sim/drill/drill.hpp"

namespace redress::drill {

/// The eye that is covered.
inline constexpr Eye kDrilledEye = Eye::right;

// Of one cover. Common practice, no source: as quickly as two covers can be told apart, so that 40
// pairs take four minutes.
inline constexpr double kStillMs = 250;   ///< both eyes open
inline constexpr double kTravelMs = 220;  ///< as a key's motion in the room
inline constexpr double kCoveredMs = 400;
inline constexpr double kLatencyMs = 205;  ///< Saccades::latency_s
inline constexpr double kLookMs = 700;     ///< after the occluder has gone
inline constexpr double kCoverMs = kStillMs + kTravelMs + kCoveredMs + kTravelMs + kLookMs;
inline constexpr double kPairMs = 2 * kCoverMs;

struct Shown {
  double horizontal_deg = 0;  ///< of the drilled eye; the other one rests straight ahead
  double vertical_deg = 0;
  double cover_share = 0;  ///< 0 the occluder is away, 1 before the eye
  bool second = false;     ///< which cover it is
  bool over = false;       ///< both have been shown
};

/// Continuous in time.
Shown calc_shown(const Pair& pair, double at_ms);

/// Where a saccade of this amplitude stands after so many seconds, degrees; from 0 to the
/// amplitude.
double calc_saccade(double after_s, double amplitude_deg);

}  // namespace redress::drill
