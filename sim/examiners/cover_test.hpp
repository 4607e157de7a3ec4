// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// Cover-uncover of each eye and the alternating cover, and what their movements mean.
//
// Reading (universal; written down for instance in the College of Optometrists' annex): an eye that
// moves when its fellow is covered was not fixing: manifest. One that moves only when it is itself
// uncovered was out of line under cover alone: latent. One that is out of line after the cover and
// was not before it: intermittent. The alternating cover shows the whole deviation and cannot tell
// latent from manifest.
#pragma once

#include <optional>
#include <vector>

#include "sim/examiners/consulting.hpp"
#include "sim/examiners/habits.hpp"
#include "sim/examiners/watching.hpp"
#include "sim/room/finding.hpp"

namespace redress::examiners {

/// What one cover showed.
struct CoverReading {
  Eye covered = Eye::right;
  std::optional<Shown> fellow_on_cover;  ///< the deviation that the other eye's movement shows
  std::optional<Shown> built_up;         ///< by how much the alignment changed under the cover
  std::optional<Shown> left_over;        ///< what is left of that at the end
  std::optional<Alignment> before;       ///< both eyes open
  std::optional<Alignment> after;
  std::optional<Tick> recovery_ms;  ///< from the eye being free until the eyes are still
  bool fellow_holds = false;        ///< the eye that was left fixing keeps fixation
};

/// What a session of covers at one distance came to.
struct CoverFinding {
  double distance_m = 6.0;
  FindingKind kind = FindingKind::none;
  Constancy constancy = Constancy::constant;
  std::optional<FindingEye> eye;  ///< that deviates; none of a latent deviation
  Shown shown;                    ///< manifest angle, or of a latent one the whole
  Shown alternating;              ///< the whole deviation, by the alternating cover
  std::optional<RecoveryGrade> recovery;
  bool flick = false;  ///< a small manifest movement
};

/// Both eyes in turn. Leaves both eyes open.
std::vector<CoverReading> cover_and_uncover(Consulting& room, const Manner& manner);

/// An eye that was bared: where it stood and where it went.
struct TakenUp {
  Eye eye = Eye::right;
  Place from;
  Place to;
};
/// The alternating cover, an even number of transfers; begins and ends with the right eye covered.
std::vector<TakenUp> alternate(Consulting& room, const Manner& manner, int transfers);

/// The alternating cover, an even number of transfers; begins and ends with the right eye covered.
/// Adds to `readings` what each movement to take up fixation showed.
void alternate(Consulting& room, const Manner& manner, int transfers, std::vector<Shown>& readings);

/// Covers the right eye for long enough that the deviation builds up.
void begin_alternating(Consulting& room);

/// Takes the cover away and lets the patient regain single vision.
void open_both(Consulting& room, Tick ms);

/// Puts the readings together.
CoverFinding read_covers(const std::vector<CoverReading>& readings, Shown alternating,
                         double distance_m);

}  // namespace redress::examiners
