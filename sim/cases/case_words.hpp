// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The words of the case format and what they stand for, shared by reading and writing. Where two
// words stand for one value the first is written.
#pragma once

#include "sim/basics/eye.hpp"
#include "sim/basics/json_reader.hpp"
#include "sim/cases/case.hpp"
#include "sim/room/finding.hpp"
#include "sim/room/plan_part_words.hpp"

namespace redress {

inline constexpr NamedValue<Eye> kEyeWords[] = {{"right", Eye::right}, {"left", Eye::left}};

inline constexpr NamedValue<Sex> kSexWords[] = {
    {"any", Sex::any}, {"female", Sex::female}, {"male", Sex::male}};

inline constexpr NamedValue<ReserveCriterion> kReserveCriterionWords[] = {
    {"usual", ReserveCriterion::usual},
    {"sheard", ReserveCriterion::sheard},
    {"one_to_one", ReserveCriterion::one_to_one},
    {"percival", ReserveCriterion::percival}};

inline constexpr NamedValue<AffectedEye> kSuppressionEyeWords[] = {{"none", AffectedEye::none},
                                                                   {"right", AffectedEye::right},
                                                                   {"left", AffectedEye::left},
                                                                   {"either", AffectedEye::either}};

inline constexpr NamedValue<AffectedEye> kOneEyeWords[] = {
    {"none", AffectedEye::none}, {"right", AffectedEye::right}, {"left", AffectedEye::left}};

inline constexpr NamedValue<SpectacleDesign> kDesignWords[] = {
    {"single", SpectacleDesign::single},
    {"bifocal", SpectacleDesign::bifocal},
    {"progressive", SpectacleDesign::progressive}};

inline constexpr NamedValue<CalledTest> kCalledTestWords[] = {
    {"near_point", CalledTest::near_point},
    {"reserves", CalledTest::reserves},
    {"ac_a", CalledTest::ac_a},
    {"four_dioptre", CalledTest::four_dioptre},
    {"control_score", CalledTest::control_score},
    {"nine_gazes", CalledTest::nine_gazes},
    {"head_tilt", CalledTest::head_tilt},
    {"corneal_reflexes", CalledTest::corneal_reflexes},
    {"eye_movements", CalledTest::eye_movements}};

inline constexpr std::string_view kPlanAlternative = " or ";

inline constexpr NamedValue<Urgency> kUrgencyWords[] = {
    {"same_day", Urgency::same_day}, {"urgent", Urgency::urgent},     {"soon", Urgency::soon},
    {"routine", Urgency::routine},   {"same day", Urgency::same_day}, {"none", Urgency::routine}};

/// The six muscles in the order of the contract.
struct MuscleWord {
  std::string_view name;
  CaseMuscle CaseMuscles::*muscle;
};
inline constexpr MuscleWord kMuscleWords[] = {{"lateral_rectus", &CaseMuscles::lateral_rectus},
                                              {"medial_rectus", &CaseMuscles::medial_rectus},
                                              {"superior_rectus", &CaseMuscles::superior_rectus},
                                              {"inferior_rectus", &CaseMuscles::inferior_rectus},
                                              {"superior_oblique", &CaseMuscles::superior_oblique},
                                              {"inferior_oblique", &CaseMuscles::inferior_oblique}};

}  // namespace redress
