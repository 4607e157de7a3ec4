// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The parts of a case that say how steady the eyes, the pupils, the lids and the patient are. Part
// of sim/cases/case.hpp.
#pragma once

#include <cstdint>
#include <optional>

#include "sim/basics/eye.hpp"
#include "sim/basics/units.hpp"

namespace redress {

/// The eye that a sensory property belongs to. `either`: whichever eye is not fixing.
enum class AffectedEye : std::uint8_t { none, right, left, either };

/// Conjugate horizontal nystagmus that is always there; smallest in one direction of gaze.
struct CaseInfantileNystagmus {
  Degrees amplitude;              ///< 20 degrees from the null and beyond; 0: none
  double frequency_hz = 3.5;      ///< beats a second
  Degrees null;                   ///< gaze of least nystagmus, + to the right
  double torsional_share = 0.33;  ///< how far the eyes roll, of how far they turn
};

/// Saccades away from the target and back.
struct CaseSquareWaveJerks {
  double per_minute = 0.0;
  Degrees size{0.5};
};

struct CaseInstability {
  Degrees latent_nystagmus;
  PerEye<PrismDioptres> dvd;
  CaseInfantileNystagmus infantile;
  CaseSquareWaveJerks square_waves;
  /// Standard deviation of each eye's fixation beyond the healthy; none: follows from its acuity.
  PerEye<std::optional<Degrees>> fixation_sd;
  double attention = 1.0;                         ///< 0 ... 1
  double blink_on_uncovering = 0.0;               ///< share of uncoverings that a blink follows
  AffectedEye resists_cover = AffectedEye::none;  ///< the eye that a child will not have covered
  PrismDioptres session_spread;                   ///< SD of the deviation between sessions
};

struct CasePupils {
  Millimetres anisocoria;                    ///< right larger +
  PerEye<std::optional<Millimetres>> fixed;  ///< reacts to nothing; none: reacts
};

struct CaseLids {
  PerEye<Millimetres> ptosis;
};

}  // namespace redress
