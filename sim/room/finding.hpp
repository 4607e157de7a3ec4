// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// One entry on the record card, as the practitioner wrote it. What is not written is absent.
#pragma once

#include <cstdint>
#include <optional>
#include <string>

#include "sim/basics/eye.hpp"

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
};

enum class FindingKind : std::uint8_t { none, phoria, tropia };
enum class Constancy : std::uint8_t { constant, intermittent };
/// `alternating`: either eye deviates; `both`: the entry holds for both eyes.
enum class FindingEye : std::uint8_t { right, left, alternating, both };
enum class SizeMethod : std::uint8_t { estimated, measured };
enum class RecoveryGrade : std::uint8_t { rapid, moderate, slow, none };
enum class FourDioptreResponse : std::uint8_t {
  typical,                 ///< version, then the fellow eye comes back
  no_movement,             ///< neither eye moved
  version_without_return,  ///< both moved, the fellow eye stayed out
};
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
};

}  // namespace redress
