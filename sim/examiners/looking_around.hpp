// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The alternating cover with the eyes turned to the sides, up and down, and with the head tilted:
// does the deviation change, and where is it worst. Prism dioptres, as seen by eye.
#pragma once

#include <string>

#include "sim/examiners/consulting.hpp"
#include "sim/examiners/habits.hpp"
#include "sim/examiners/watching.hpp"
#include "sim/room/act.hpp"

namespace redress::examiners {

inline constexpr double kGazeDeg = 25.0;  ///< as the nine positions are usually tested
inline constexpr double kTiltDeg = 30.0;

/// The deviation in each position; of the two fixing eyes the one with which it is larger.
struct Around {
  Shown ahead;
  Shown right;  ///< gaze
  Shown left;
  Shown up;
  Shown down;
  Shown tilt_right;  ///< of the head
  Shown tilt_left;
  /// How far the lids stood open, ahead and to the sides.
  PerEye<double> open_ahead{};
  PerEye<double> open_right{};
  PerEye<double> open_left{};

  /// No gaze differs from straight ahead by 5 or more (Repka & Arnoldi 1991).
  [[nodiscard]] bool is_comitant() const;
  /// A cyclovertical muscle after Parks's three steps (1958), "right superior oblique"; empty where
  /// the steps do not agree on one or nothing is high.
  [[nodiscard]] std::string name_weak_muscle() const;
  /// Higher now the one eye and now the other, by the side of gaze and of the tilt, as when both
  /// superior obliques are weak.
  [[nodiscard]] bool is_reversing() const;
  /// The eye that stays low on looking up though the two are level on looking down, as on a leash;
  /// "right ", "left " or empty.
  [[nodiscard]] std::string name_low_above() const;
  /// Changes more from side to side in width than in height.
  [[nodiscard]] bool is_sideways() const;
  /// The eye that turns too little to its own side, by the deviation; none: empty. "right " or
  /// "left ".
  [[nodiscard]] std::string name_weak_abduction() const;
  /// The same of turning in.
  [[nodiscard]] std::string name_weak_adduction() const;
  /// The eye whose lids narrow on turning in, as those of an eye that is drawn back; "right ",
  /// "left " or empty.
  [[nodiscard]] std::string name_narrowing() const;
};

/// At 6 m with this target, moved about; it is back straight ahead and the head upright at the end.
Around look_around(Consulting& room, const Manner& manner, act::ShowTarget target, bool tilt_too);

}  // namespace redress::examiners
