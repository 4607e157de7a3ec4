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
#include "sim/cases/case_instability.hpp"
#include "sim/cases/case_teaching.hpp"
#include "sim/room/finding.hpp"

namespace redress {

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
  Millimetres optical_centre_height;  ///< above the pupil, looking straight ahead
};

enum class SpectacleDesign : std::uint8_t { single, bifocal, progressive };

/// What stands in where a design has these and the case does not say; sources in defaults.cpp.
inline constexpr Millimetres kUsualSegmentTop{-5};
inline constexpr Millimetres kUsualFittingCross{0};
inline constexpr Millimetres kUsualCorridor{14};
inline constexpr Millimetres kUsualInset{2.5};

struct CaseSpectacles {
  PerEye<std::optional<CaseSpectacleLens>> lens;  ///< none: that eye owns no lens
  Dioptres add;
  SpectacleDesign design = SpectacleDesign::single;
  bool contact_lenses = false;  ///< on the eyes: they go with them
  std::optional<bool> worn;     ///< as written; see owned() and worn_at_start()
  Millimetres vertex_distance{12};
  std::optional<Millimetres> optical_centres;  ///< none: the interpupillary distance
  /// Heights above the pupil, looking straight ahead; none where the design has no such thing.
  std::optional<Millimetres> segment_top;    ///< bifocal; none: kUsualSegmentTop
  std::optional<Millimetres> fitting_cross;  ///< progressive: where its corridor begins
  std::optional<Millimetres> corridor;       ///< from there down to the whole addition
  std::optional<Millimetres> inset;          ///< of the near part, towards the nose

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
  CaseReserves distance;                     ///< at 6 m and beyond
  CaseReserves near;                         ///< at 40 cm and nearer
  std::optional<CaseReserves> far_distance;  ///< at 20 m and beyond; none: as at 6 m
  CaseVerticalReserve right_supra;
  CaseVerticalReserve right_infra;
  Seconds release_time_constant;
  Seconds recovery_time_constant;
  double fatigue = 0.0;    ///< 0 ... 1: how much alternation tires fusion
  double tenacious = 0.0;  ///< 0 ... 0.9: share of the deviation that only prolonged cover shows
};

struct CaseDeviation {
  PrismDioptres distance;                     ///< total, fully dissociated, at 6 m; eso +
  PrismDioptres near;                         ///< at 40 cm
  PrismDioptres vertical;                     ///< at every distance; right eye higher +
  std::optional<PrismDioptres> far_distance;  ///< at 20 m and beyond; none: follows from the rest
  double ac_a_pd_per_d = 4.0;                 ///< gradient per dioptre of stimulus at 40 cm
  std::vector<std::pair<Metres, PrismDioptres>> by_distance;  ///< other distances, as written
};

struct CaseAccommodation {
  Dioptres spasm;  ///< of the near reflex: accommodation that does not let go
};

struct CaseSensory {
  Eye preferred_eye = Eye::right;
  double preference = 0.9;
  AffectedEye suppression_eye = AffectedEye::none;
  Degrees scotoma_diameter;
  AffectedEye eccentric_eye = AffectedEye::none;  ///< none, right or left
  Degrees eccentric_nasal;
  PrismDioptres anomaly;  ///< angle of anomaly, eso +
  /// Sees two of everything with this eye alone (its optics).
  AffectedEye monocular_diplopia = AffectedEye::none;
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

/// How the patient holds its head unless told otherwise.
struct CaseHeadPosture {
  Degrees roll;
  Degrees turn;
  Degrees chin;
  bool seeks_comfort = false;  ///< found by trying (sim/room/comfortable_posture.hpp)
};

enum class Sex : std::uint8_t { any, female, male };

struct CasePatient {
  std::string name;        ///< invented; shown to the practitioner
  Sex sex = Sex::any;      ///< of the face, where the case names none
  std::string appearance;  ///< identifier of a face; empty: any
  double age_years = 23.0;
  std::string story;
  Millimetres interpupillary_distance{63};
  Metres near_working_distance{0.40};
  Metres screen_distance{0.70};
  CaseHeadPosture head_posture;
};

/// Tests that a case can call for beside cover and prism.
enum class CalledTest : std::uint8_t {
  near_point,
  reserves,
  ac_a,
  four_dioptre,
  control_score,
  nine_gazes,
  head_tilt,
  corneal_reflexes,
  eye_movements,  ///< versions, ductions, saccades
};
inline constexpr std::size_t kMostCalledTests = 3;

/// What reserves are held against. Usual: Sheard's rule for exo, one to one for eso.
enum class ReserveCriterion : std::uint8_t { usual, sheard, one_to_one, percival };

struct CaseExpected {
  std::string diagnosis;
  std::vector<std::string> accepted_diagnoses;  ///< other wordings that earn the mark
  std::optional<Urgency> urgency;
  bool red_flag = false;
  /// Key parts of the plan and advice; of each group one is enough. Empty: any plan with advice.
  std::vector<std::vector<PlanPart>> plan;
  std::vector<PlanPart> harmful;  ///< parts that would do harm here
  bool also_without = false;      ///< to be covered without the glasses as well
  ReserveCriterion reserve_criterion = ReserveCriterion::usual;  ///< not marked: for its author
  /// Marked in part E of the rubric; none written: the four-dioptre test where the eyes call for
  /// it.
  std::optional<std::vector<CalledTest>> tests;
};

struct Case {
  std::string title;
  std::string note;  ///< for teachers, never shown to a practitioner
  std::uint64_t seed = 1;
  CasePatient patient;
  PerEye<CaseEyeRefraction> refraction;
  CaseSpectacles spectacles;
  CaseDeviation deviation;
  CaseAccommodation accommodation;
  CaseFusion fusion;
  CaseSensory sensory;
  PerEye<CaseMuscles> muscles;
  double tilt_gain = 1.0;
  PrismDioptres skew;  ///< right eye higher +, whatever the muscles do
  PerEye<double>
      fatigability{};  ///< share of all its muscles' strength lost in a minute of up gaze
  CaseInstability instability;
  CasePupils pupils;
  CaseLids lids;
  CaseExpected expected;
  CaseTeaching teaching;
  /// What the patient answers to a question of the history, by the question's key.
  std::vector<std::pair<std::string, std::string>> answers;
  /// What its author writes of it; what is asked for beyond that: sim/cases/on_file.hpp.
  std::vector<std::pair<std::string, std::string>> on_file;
};

}  // namespace redress
