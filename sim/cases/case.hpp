// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// A case as an educator writes it, in clinical units, with every default filled in. Signs:
// sim/basics/eye.hpp. Reading, checking and explaining: sim/cases/case_file.hpp. What the engine
// makes of it: sim/cases/setup.hpp.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "sim/basics/eye.hpp"
#include "sim/basics/units.hpp"
#include "sim/room/finding.hpp"

namespace redress {

/// The eye that a sensory property belongs to. `either`: whichever eye is not fixing.
enum class AffectedEye : std::uint8_t { none, right, left, either };

struct CaseEyeRefraction {
  Dioptres sphere;  ///< the full correction
  Dioptres cylinder;
  Degrees axis;
  double acuity_logmar = 0.0;  ///< best corrected
};

struct CaseSpectacleLens {
  Dioptres sphere;
  Dioptres cylinder;
  Degrees axis;
  PrismDioptres prism;
  Degrees base;
};

struct CaseSpectacles {
  PerEye<std::optional<CaseSpectacleLens>> lens;  ///< none: that eye owns no lens
  Dioptres add;
  std::string design = "single";
  std::optional<bool> worn;  ///< as written; see owned() and worn_at_start()
  Millimetres vertex_distance{12};
  std::optional<Millimetres> optical_centres;  ///< none: the interpupillary distance

  [[nodiscard]] bool owned() const { return lens.right.has_value() || lens.left.has_value(); }
  [[nodiscard]] bool worn_at_start() const { return owned() && worn.value_or(true); }
};

/// Blur, break and recovery as a prism bar measures them from the straight (fused) position.
struct CaseReserve {
  std::optional<PrismDioptres> blur;  ///< none: no blur before the break
  PrismDioptres break_point;          ///< below 0: never straight
  PrismDioptres recovery;             ///< below 0: once broken, fusion does not return unaided
};

struct CaseReserves {
  CaseReserve base_out;
  CaseReserve base_in;
};

/// Break and recovery of a vertical reserve, from the straight position.
struct CaseVerticalReserve {
  PrismDioptres break_point;
  PrismDioptres recovery;
};

struct CaseFusion {
  bool present = true;
  CaseReserves distance;  ///< at 6 m and beyond
  CaseReserves near;      ///< at 40 cm and nearer
  CaseVerticalReserve right_supra;
  CaseVerticalReserve right_infra;
  Seconds release_time_constant;
  Seconds recovery_time_constant;
};

struct CaseDeviation {
  PrismDioptres distance;      ///< total, fully dissociated, at 6 m; eso +
  PrismDioptres near;          ///< at 40 cm
  PrismDioptres vertical;      ///< at every distance; right eye higher +
  double ac_a_pd_per_d = 4.0;  ///< gradient per dioptre of stimulus at 40 cm
  std::vector<std::pair<Metres, PrismDioptres>> by_distance;  ///< other distances, as written
};

struct CaseSensory {
  Eye preferred_eye = Eye::right;
  double preference = 0.9;
  AffectedEye suppression_eye = AffectedEye::none;
  Degrees scotoma_diameter;
  AffectedEye eccentric_eye = AffectedEye::none;  ///< none, right or left
  Degrees eccentric_nasal;
  PrismDioptres anomaly;  ///< angle of anomaly, eso +
};

struct CaseInstability {
  Degrees latent_nystagmus;
  PerEye<PrismDioptres> dvd;
  double attention = 1.0;  ///< 0 ... 1
};

/// One muscle as the case gives it; the defaults are a healthy muscle.
struct CaseMuscle {
  double strength = 1.0;
  std::optional<Degrees> limit;
  double limit_stiffness = 20.0;
  Degrees shorter;
  double stiffness = 1.0;
  double share_of_medial = 0.0;  ///< lateral rectus only
  double version_gain = 1.0;     ///< medial rectus only
  bool operator==(const CaseMuscle&) const = default;
};

struct CaseMuscles {
  CaseMuscle lateral_rectus, medial_rectus, superior_rectus, inferior_rectus, superior_oblique,
      inferior_oblique;
  bool operator==(const CaseMuscles&) const = default;
};

struct CasePatient {
  std::string name;        ///< invented; shown to the practitioner
  std::string appearance;  ///< identifier of a face; empty: any
  double age_years = 23.0;
  std::string story;
  Millimetres interpupillary_distance{63};
  Metres near_working_distance{0.40};
  Metres screen_distance{0.70};
};

struct CaseExpected {
  std::string diagnosis;
  std::vector<std::string> accepted_diagnoses;  ///< other wordings that earn the mark
  std::optional<Urgency> urgency;
  bool red_flag = false;
};

struct Case {
  std::string title;
  std::string note;  ///< for teachers, never shown to a practitioner
  std::uint64_t seed = 1;
  CasePatient patient;
  PerEye<CaseEyeRefraction> refraction;
  CaseSpectacles spectacles;
  CaseDeviation deviation;
  CaseFusion fusion;
  CaseSensory sensory;
  PerEye<CaseMuscles> muscles;
  double tilt_gain = 1.0;
  PrismDioptres skew;  ///< right eye higher +, whatever the muscles do
  PerEye<double>
      fatigability{};  ///< share of all its muscles' strength lost in a minute of up gaze
  CaseInstability instability;
  CaseExpected expected;
  /// What the patient answers to a question of the history, by the question's key.
  std::vector<std::pair<std::string, std::string>> answers;
};

}  // namespace redress
