// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// What can be told from outside at one moment of an examination: one row of a trace. The picture is
// drawn from it; the reference examiner may look at its gaze, lids and covers and nothing else.
#pragma once

#include <cstdint>
#include <string>

#include "sim/basics/eye.hpp"
#include "sim/room/act.hpp"

namespace redress {

/// Which eye, both or none: of the fixing eye and of the suppressed one.
enum class WhichEyes : std::uint8_t { none, right, left, both };

struct EyeObservation {
  double horizontal_deg = 0.0;
  double vertical_deg = 0.0;
  double torsion_deg = 0.0;  ///< against Listing's orientation for this line and vergence
  bool covered = false;      ///< the line from the pupil's centre to the target is cut
  double pupil_mm = 4.0;
  double lid_open_fraction = 1.0;  ///< 0 shut ... 1 as at rest, straight ahead
  double retraction_mm = 0.0;      ///< drawn back into the orbit by muscles that pull together
  /// By how much Listing's orientation for this line is itself turned in convergence
  /// (sim/patient/listing.hpp): the eye as it is seen has turned by this and by its torsion.
  double listing_deg = 0.0;
};

struct Observation {
  Tick at_ms = 0;
  PerEye<EyeObservation> eye;
  WhichEyes fixing = WhichEyes::both;
  bool fused = true;
  double accommodation_d = 0.0;
  WhichEyes suppressed = WhichEyes::none;
};

/// What the patient (or the file) answers, at its time.
struct Reply {
  Tick at_ms = 0;
  std::string to;      ///< the question or request
  std::string answer;  ///< a word for the record: "single", "double", ...
  std::string text;    ///< as it is said
  bool operator==(const Reply&) const = default;
};

}  // namespace redress
