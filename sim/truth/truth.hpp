// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// What is really there, found by examining the patient with the noise and the slow adaptation off:
// never copied from the case's numbers. Signs: sim/basics/eye.hpp.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <vector>

#include <nlohmann/json.hpp>

#include "sim/basics/eye.hpp"
#include "sim/room/examination.hpp"
#include "sim/room/finding.hpp"

namespace redress::truth {

enum class Manifest : std::uint8_t { none, intermittent, constant };
enum class DeviatingEye : std::uint8_t { none, right, left, alternating };

/// Which part of the fixing eye's lens its line of sight goes through: by the share of the addition
/// that is in force there, a tenth and nine tenths (judgement).
enum class UsedLens : std::uint8_t { none, distance, intermediate, near };

/// One distance, with or without spectacles, one eye fixing and the other covered for good.
struct Condition {
  double distance_m = 6.0;
  bool spectacles = false;  ///< worn; false as well when none are owned
  Eye fixing = Eye::right;
  double target_vertical_deg = 0.0;  ///< 0 straight ahead
  UsedLens lens = UsedLens::none;
  bool cannot_fixate = false;  ///< the eye does not reach the target: no deviation can be told
  double horizontal_pd = 0.0;  ///< fully dissociated; eso +
  double vertical_pd = 0.0;    ///< right eye higher +
  double torsion_deg = 0.0;    ///< excyclo +
  /// What a minute of alternating cover shows: less than the above where fusion is tenacious.
  double alternating_horizontal_pd = 0.0;
  /// Label of one plastic prism held frontal before the other eye; none where no prism does it.
  std::optional<double> neutralising_horizontal_pd;
  std::optional<double> neutralising_vertical_pd;
  Manifest manifest = Manifest::none;
  DeviatingEye deviating_eye = DeviatingEye::none;
  double manifest_horizontal_pd = 0.0;
  double manifest_vertical_pd = 0.0;
};

/// One gaze position or head tilt at 6 m.
struct Position {
  double horizontal_deg = 0.0;
  double vertical_deg = 0.0;
  double roll_deg = 0.0;
  Eye fixing = Eye::right;
  bool cannot_fixate = false;
  double horizontal_pd = 0.0;
  double vertical_pd = 0.0;
  double torsion_deg = 0.0;
  /// As of a Condition: what differs from the deviation is the spectacles' doing.
  std::optional<double> neutralising_horizontal_pd;
  std::optional<double> neutralising_vertical_pd;
};

/// With the head as the patient holds it, at 6 m, the preferred eye fixing.
struct OwnPosture {
  HeadState head;
  double horizontal_pd = 0.0;
  double vertical_pd = 0.0;
  double torsion_deg = 0.0;
  Manifest manifest = Manifest::none;
};

/// As a prism bar reads them: labels.
struct ReserveReading {
  std::optional<double> blur_pd;
  std::optional<double> break_pd;     ///< none: the bar's last step does not break it
  std::optional<double> recovery_pd;  ///< none: not regained
};
struct ReservesAt {
  double distance_m = 6.0;
  ReserveReading base_out;
  ReserveReading base_in;
};

struct Truth {
  std::vector<Condition> conditions;
  /// Where spectacles have an addition: at near and at the working distance, the target lowered
  /// until the line of sight goes through the near part, each eye fixing.
  std::vector<Condition> reading;
  std::vector<Position> gaze;             ///< nine positions, each eye fixing
  std::vector<Position> head_tilt;        ///< +-30 degrees
  std::optional<OwnPosture> own_posture;  ///< none: upright
  bool comitant = true;
  double largest_change_pd = 0.0;
  WhichEyes suppression_eye = WhichEyes::none;
  double ac_a_gradient_pd_per_d = 0.0;
  double ac_a_heterophoria_pd_per_d = 0.0;
  std::vector<ReservesAt> reserves;  ///< empty where the eyes are not fused
  std::optional<double> near_point_break_cm;
  std::optional<double> near_point_recovery_cm;
  std::optional<int>
      control_distance;  ///< office control score 0 ... 5; none without an exodeviation
  std::optional<int> control_near;
  PerEye<FourDioptreResponse> four_dioptre{};
  std::optional<double> recovery_ms;  ///< to 95 % after a 10 s cover at 6 m; none: not regained
  PerEye<double> acuity_logmar{};
  std::string diagnosis;  ///< named from the findings above
};

/// Which parts to compute: the findings that score a record take a fraction of the time.
struct Extent {
  bool gaze = true;
  bool reserves = true;
  bool near_point = true;
};

struct Distances {
  double screen_m = 0.7;
  double near_working_m = 0.4;
};

Truth calc_truth(const ExaminationSetup& setup, Distances distances, Extent extent = {});

/// The condition that a finding written for this distance and correction is compared with: computed
/// there, whatever the distance (fixing eye as given). `own_posture`: with the head as the patient
/// holds it, else upright.
Condition calc_condition(const ExaminationSetup& setup, double distance_m, bool spectacles,
                         Eye fixing, bool own_posture = false);
/// The same in any state: trial lenses, a lowered target.
Condition calc_condition(const ExaminationSetup& setup, const Opening& opening, Eye fixing);

/// Names what the findings are, by the criteria of sim/truth/naming.cpp. The only place, with
/// scoring, that speaks of diagnoses.
std::string calc_diagnosis(const Truth& truth);

/// JSON as published; `urgency` is the case's.
nlohmann::json to_json(const Truth& truth, const std::string& urgency);

}  // namespace redress::truth
