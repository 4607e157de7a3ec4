// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// One entry on the record card, as the practitioner wrote it. What is not written is absent.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "sim/basics/eye.hpp"
#include "sim/room/plan_part.hpp"

namespace redress {

/// What the entry is about.
enum class FindingTest : std::uint8_t {
  cover_test,    ///< cover-uncover and alternate cover: class, direction, size estimated
  prism_cover,   ///< prism and alternate cover: size neutralised
  four_dioptre,  ///< response of one eye to 4 prism dioptres base out
  near_point,    ///< near point of convergence
  reserves,      ///< fusional reserves
  ac_a,          ///< AC/A ratio
  impression,    ///< provisional diagnosis
  plan,          ///< plan, advice and urgency
  gaze,          ///< size in one position of gaze or tilt of the head
  control,       ///< office control score, 0 ... 5, of an exodeviation at one distance
  reflexes,      ///< corneal reflexes: size of what is manifest
  motility,      ///< versions, ductions, saccades: which eye falls short, and which way
};

enum class FindingKind : std::uint8_t { none, phoria, tropia };
enum class Constancy : std::uint8_t { constant, intermittent };
/// `alternating`: either eye deviates; `both`: the entry holds for both eyes.
enum class FindingEye : std::uint8_t { right, left, alternating, both };
/// `measured`: prism and alternating cover; `simultaneous`: prism and cover at once, what is
/// manifest only; the last two by the corneal reflexes, with prism and without.
enum class SizeMethod : std::uint8_t { estimated, measured, simultaneous, krimsky, hirschberg };
enum class RecoveryGrade : std::uint8_t { rapid, moderate, slow, none };
enum class FourDioptreResponse : std::uint8_t {
  typical,                 ///< version, then the fellow eye comes back
  no_movement,             ///< neither eye moved
  version_without_return,  ///< both moved, the fellow eye stayed out
};
/// Which way an eye was seen to go; for a version or duction, which way it falls short.
enum class SeenWay : std::uint8_t { none, in, out, up, down };
/// A: more eso above, V: more eso below.
enum class SeenPattern : std::uint8_t { none, a, v };
enum class Confidence : std::uint8_t { sure, fair, unsure };
/// What the patient was told of driving; the law is the country's.
enum class Driving : std::uint8_t { no_bar, not_until_controlled, notify_authority };
/// How soon somebody must act; a department maps these to its own code.
enum class Urgency : std::uint8_t { same_day, urgent, soon, routine };

struct Finding {
  FindingTest test = FindingTest::cover_test;
  std::optional<double> distance_m;
  std::optional<bool> spectacles;
  std::optional<FindingKind> kind;
  std::optional<Constancy> constancy;
  std::optional<FindingEye> eye;
  std::optional<double> horizontal_pd;  ///< eso +, exo -
  std::optional<double> vertical_pd;    ///< right eye higher +
  std::optional<SizeMethod> method;
  std::optional<RecoveryGrade> recovery;
  std::optional<FourDioptreResponse> response;  ///< four_dioptre
  std::optional<bool> comitant;
  std::optional<double> break_value;     ///< near_point: cm; reserves: prism dioptres
  std::optional<double> recovery_value;  ///< the same units
  std::optional<double> blur_value;      ///< reserves
  std::string base;                      ///< reserves: "in", "out", "up", "down"
  std::optional<double> ac_a_pd_per_d;
  std::string diagnosis;           ///< impression, in the writer's words
  std::string advice;              ///< plan
  std::optional<Urgency> urgency;  ///< plan or impression
  std::string remark;              ///< free text on any entry

  // How and in what state it was found.
  std::string target;                ///< "letters", "letter", "picture", "spot"
  std::optional<FindingEye> fixing;  ///< right, left
  std::string head_posture;          ///< as held, in words
  /// gaze: of the target against the head, and the head's tilt; signs as of the acts.
  std::optional<double> gaze_horizontal_deg;
  std::optional<double> gaze_vertical_deg;
  std::optional<double> head_roll_deg;
  std::optional<Confidence> confidence;
  std::string not_done;  ///< could not be tested, because

  // What was seen beside the size. `on_cover`: of this eye as its fellow was covered; `on_uncover`:
  // of this eye as it was freed; for motility: where it falls short.
  PerEye<std::optional<SeenWay>> on_cover{};
  PerEye<std::optional<SeenWay>> on_uncover{};
  PerEye<std::optional<SeenWay>> falls_short{};
  std::optional<bool> holds_to_blink;           ///< the deviating eye, once it fixes
  std::optional<std::int32_t> covers_to_break;  ///< until it was manifest
  std::optional<bool> nystagmus;
  std::optional<bool> dvd;
  std::optional<SeenPattern> pattern;
  std::optional<double> torsion_deg;    ///< excyclo +
  std::optional<bool> double_vision;    ///< noticed by the patient
  std::optional<std::int32_t> control;  ///< 0 ... 5

  // Plan. Parts in the order of PlanPart, each once.
  std::vector<PlanPart> parts;
  std::optional<Driving> driving;
  std::optional<double> next_weeks;  ///< until the next visit
};

}  // namespace redress
