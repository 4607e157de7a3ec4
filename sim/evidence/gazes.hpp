// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Deviations over gaze and head tilt, each with the patient fully dissociated and the noise off.
// For the rows on muscles and for the plots of nine gazes and of head tilt.
#pragma once

#include <array>
#include <string>

#include "sim/evidence/bench.hpp"

namespace redress::evidence {

/// Where the patient looks: degrees, + right, + up; tilt + towards the right shoulder.
struct Place {
  double horizontal_deg = 0.0;
  double vertical_deg = 0.0;
  double roll_deg = 0.0;
  double distance_m = 6.0;
};

/// Members for a case with one weak muscle.
std::string weak(const std::string& eye, const std::string& muscle, double strength);

/// The deviation of a patient, straight but for these members, who does not fuse.
truth::Deviation deviation_at(const std::string& members, const Place& place,
                              Eye fixing = Eye::left);

struct GazeAt {
  std::string name;
  Place place;
  truth::Deviation deviation;
};
using Gazes = std::array<GazeAt, 9>;
/// Up left, up, up right, left, straight ahead, right, down left, down, down right; 25 degrees.
Gazes nine_gazes(const std::string& members, Eye fixing);

/// How far an eye gets towards a place, its fellow covered; and with both open, the fellow fixing.
double duction(const std::string& members, Eye eye, double horizontal_deg, double vertical_deg);
double version(const std::string& members, Eye eye, double horizontal_deg, double vertical_deg);

/// Torsion of a healthy right eye.
double healthy_torsion(const Place& place);

}  // namespace redress::evidence
