// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The words for recovery and the times that they stand for. Departments write rapid, moderate, slow
// or none without numbers (common practice, no source); the limits here are this program's, set so
// that a healthy adult, who regains 95 % of fusion in 0.6 to 1.4 s, is rapid.
#pragma once

#include <optional>

#include "sim/room/finding.hpp"

namespace redress::findings {

inline constexpr double kRapidRecoveryMs = 1500.0;
inline constexpr double kModerateRecoveryMs = 3000.0;

/// From the eye being free to single vision, ms; nothing: not regained.
constexpr RecoveryGrade grade_recovery(std::optional<double> time_ms) {
  if (!time_ms) return RecoveryGrade::none;
  if (*time_ms <= kRapidRecoveryMs) return RecoveryGrade::rapid;
  if (*time_ms <= kModerateRecoveryMs) return RecoveryGrade::moderate;
  return RecoveryGrade::slow;
}

/// "rapid", "moderate", "slow", "none".
constexpr const char* grade_word(RecoveryGrade grade) {
  switch (grade) {
    case RecoveryGrade::rapid: return "rapid";
    case RecoveryGrade::moderate: return "moderate";
    case RecoveryGrade::slow: return "slow";
    case RecoveryGrade::none: return "none";
  }
  return "";
}

}  // namespace redress::findings
