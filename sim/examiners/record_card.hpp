// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// From what an examiner saw and heard to the entries of a record card: findings, impression, plan.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "sim/basics/eye.hpp"
#include "sim/examiners/cover_test.hpp"
#include "sim/examiners/further_tests.hpp"
#include "sim/examiners/looking_around.hpp"
#include "sim/examiners/prism_bar.hpp"
#include "sim/room/finding.hpp"

namespace redress::examiners {

/// All that was found at one distance.
struct DistanceFinding {
  bool spectacles = false;  ///< worn then
  double lens_d = 0.0;      ///< trial lenses before both eyes
  bool lowered = false;     ///< to be read through an addition
  CoverFinding cover;
  std::optional<PrismReading> prism;
};

/// What the whole examination came to.
struct WholeFinding {
  std::optional<DistanceFinding> far;
  std::optional<DistanceFinding> near;
  std::optional<DistanceFinding>
      without;                            ///< at 6 m without the glasses, beside the test with them
  std::optional<DistanceFinding> beyond;  ///< far distance, where the story asks for it
  std::optional<Around> around;
  std::optional<PerEye<FourDioptreResponse>> four_dioptre;
  std::optional<NearPointReading> near_point;
  std::optional<ReserveReading> base_out;  ///< at near
  std::optional<ReserveReading> base_in;
  std::optional<double> ac_a_pd_per_d;
  std::optional<int> control_far;
  std::optional<int> control_near;  ///< at 33 cm
  PerEye<double> acuity_logmar{};
  bool owns_glasses = false;
  bool wore_glasses = false;    ///< when the patient came in
  bool plus = false;            ///< in the glasses
  bool has_addition = false;    ///< at their bottom
  PerEye<double> sphere_d{};    ///< of the glasses
  bool presbyope = false;       ///< past 40, as the patient looks
  bool may_drive = false;       ///< old enough to
  bool dissociated = false;     ///< either eye comes down when it is bared
  bool beats = false;           ///< the eyes, open and on the target
  bool sees_double = false;     ///< by the answers, as the next ones
  bool new_and_sudden = false;  ///< within days
  bool new_in_weeks = false;
  bool lifelong = false;  ///< since birth or childhood
  bool pressure = false;  ///< headache on waking or lying down
  bool bent_lines = false;
  bool fixed_pupil = false;             ///< by the file, looked up where a lid hangs
  bool near_reflex = false;             ///< convergence that comes and goes, small pupils with it
  bool tires = false;                   ///< changes with a minute of looking up
  bool carries_prism = false;           ///< in the glasses, as neutralised
  std::string low_lid;                  ///< "right ", "left " or empty
  std::optional<DistanceFinding> bare;  ///< at 6 m without the glasses that carry a prism
  std::optional<double> near_after_patch_pd;
  std::optional<double> reflexes_far;  ///< by prism and reflexes, where one eye sees no target
  std::optional<double> reflexes_near;
  bool sore_temple = false;  ///< or a jaw that tires, past 50
  bool reels = false;        ///< or falls to a side
  bool thyroid = false;
  bool double_with_one_eye = false;  ///< stays when the other is covered
  bool reads_more = false;           ///< with encouragement, than was said
  bool has_trouble = false;          ///< tired eyes, day by day
};

/// Reads "right 0.30 left 0.00 logMAR, corrected"; 0 for an eye that is not mentioned.
PerEye<double> read_acuity(const std::string& on_file);

/// Entries in the order in which they are written: tests, impression, plan.
std::vector<Finding> write_card(const WholeFinding& examined);

}  // namespace redress::examiners
