// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// What an act in the log could have shown. One pass over an examination turns acts and rows into
// covers (which eye, how long, at what target, in whose view), transfers, prisms and what was left
// to move behind them, four-dioptre trials, questions and notes. Nothing here knows what is right.
//
// A cover is unilateral if the fellow was not covered within kTransferGapMs before or after it;
// else it belongs to an alternating sequence and the time both eyes saw in between is a glimpse.
#pragma once

#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "sim/findings/movements.hpp"
#include "sim/room/act.hpp"
#include "sim/room/examination.hpp"

namespace redress::findings {

inline constexpr Tick kTransferGapMs = 500;
/// A cover shorter than this shows nothing that can be relied on.
inline constexpr Tick kShortestCoverMs = 1500;
/// After each cover and uncover the eye that moves has to be in the practitioner's view this long.
inline constexpr Tick kOwnViewMs = 600;

/// Where and with what correction something was done.
struct Setting {
  double distance_m = 6.0;
  bool spectacles = false;
  bool lenses = false;  ///< trial lenses before either eye
  PerEye<double> lenses_d{};
  double lens_d = 0.0;   ///< mean of the two
  bool straight = true;  ///< target straight ahead, head upright
  /// Target straight ahead, head as this patient holds it by itself, which is not upright.
  bool own_posture = false;
  // Of the target against the head; and the head's tilt.
  double gaze_horizontal_deg = 0.0;
  double gaze_vertical_deg = 0.0;
  double roll_deg = 0.0;
};

/// Within 10 % of the distance, same correction, no trial lenses, straight ahead.
bool is_at(const Setting& setting, double distance_m, bool spectacles);
/// The same with the head in the patient's own posture.
bool is_at_in_own_posture(const Setting& setting, double distance_m, bool spectacles);
bool is_same_distance(double a_m, double b_m);

struct CoverSpan {
  Eye eye = Eye::right;
  Tick from_ms = 0;
  Tick to_ms = 0;  ///< first row in which the eye is free, or the last row
  bool ended = false;
  Setting setting;
  TargetKind kind = TargetKind::letters;
  double size_logmar = 0.0;
  PerEye<double> threshold_logmar;  ///< of each eye, if it fixes, with the correction worn then
  PerEye<bool> resolvable;          ///< the target by each eye with that
  PerEye<bool> behind_head{};       ///< the practitioner's hid it as the cover began
  bool opaque = true;
  bool behind_prism = false;  ///< a prism stood before either eye
  bool transfer_in = false;
  bool transfer_out = false;
  Tick glimpse_ms = 0;  ///< with transfer_in: both eyes free just before
  bool fused_in_glimpse = false;
  bool before_alternating = true;  ///< no alternating sequence at this setting so far
  Tick open_after_ms = 0;          ///< both eyes free until the next cover, or the end
  bool fused_before_next = false;
  std::optional<Tick> regained_ms;
  double view_on_cover = 0.0;    ///< share of kOwnViewMs in which the fellow was in view
  double view_on_uncover = 0.0;  ///< the same of this eye after uncovering
  /// For how long each of the practitioner's own eyes had lost sight of it, both windows together.
  PerEye<Tick> own_eye_lost_ms{};

  [[nodiscard]] Tick duration_ms() const { return to_ms - from_ms; }
  [[nodiscard]] bool unilateral() const { return ended && !transfer_in && !transfer_out; }
};

/// A set of prisms before the eyes, from one change to the next.
struct PrismStep {
  Tick from_ms = 0;
  Tick to_ms = 0;
  Setting setting;
  PerEye<bool> before;
  /// Labels of both eyes together, by what they neutralise: base out +; right eye higher +.
  double horizontal_pd = 0.0;
  double vertical_pd = 0.0;
  std::int32_t transfers = 0;  ///< alternations behind these prisms
  bool open = true;            ///< no eye was covered while they stood there
  bool single_before = false;  ///< both eyes on the target when they came
  bool single_at_end = false;  ///< and when they were changed
  /// One eye was covered as the prism came before the other: what that one's movement left.
  bool with_cover = false;
  double left_with_cover_pd = 0.0;
  /// The middle one of the movements to take up fixation; 0 where none was seen.
  double residual_horizontal_pd = 0.0;
  double residual_vertical_pd = 0.0;
  bool same_sense_stack = false;  ///< one on another before one eye, bases alike
  bool held_askew = false;        ///< above 30, more than 10 degrees off its calibrated position
  /// By how much the light is turned otherwise than by the sum of the labels before each eye as one
  /// plastic prism held frontal: what stacking or tilting did.
  double effect_pd = 0.0;
  std::optional<bool> said_clear;  ///< asked for while they stood there
};

/// Four prism dioptres, base out, put before one eye while both are free.
struct FourDioptreTrial {
  Tick at_ms = 0;
  Eye eye = Eye::right;
  Setting setting;
  std::optional<FourDioptreResponse> seen;  ///< none: not watched long enough
};

/// The target brought towards the nose with both eyes open, and taken away again.
struct Approach {
  Tick at_ms = 0;
  double from_cm = 0.0;
  double closest_cm = 0.0;
  double speed_cm_per_s = 0.0;  ///< mean, on the way in
  Setting setting;
  std::optional<double> break_cm;     ///< where single vision was lost for good
  std::optional<double> recovery_cm;  ///< on the way out
};

/// The occluder stood still before an eye, and the eye saw past its edge.
struct Peek {
  Eye eye = Eye::right;
  Tick from_ms = 0;
  Tick to_ms = 0;
};

/// Both eyes open before anything had dissociated them.
struct FirstWatch {
  Setting setting;
  Tick ms = 0;
  Tick apart_ms = 0;  ///< of it, the eyes not on the target together
};

struct Question {
  Tick at_ms = 0;
  std::string what;
};

struct WrittenFinding {
  Tick at_ms = 0;
  Finding finding;
};

/// Time with both eyes free and not fused, by the eye that fixed.
struct OpenDeviation {
  Setting setting;
  PerEye<Tick> fixing_ms{};
};

struct Evidence {
  std::vector<CoverSpan> covers;
  std::vector<PrismStep> prisms;
  std::vector<FourDioptreTrial> four_dioptre;
  std::vector<Approach> approaches;
  std::vector<FirstWatch> first_watches;
  /// For how long the practitioner's own head hid the target from either eye.
  Tick head_before_target_ms = 0;
  std::vector<Peek> peeks;
  std::vector<Question> questions;
  std::vector<Question> requests;
  std::vector<WrittenFinding> notes;
  std::vector<OpenDeviation> open;
  std::vector<Movement> movements;
  std::optional<Tick> first_cover_ms;
  Tick looked_ms = 0;                 ///< both eyes free and the target up before the first cover
  std::optional<Tick> instructed_ms;  ///< told to look or to keep it clear
  Tick penlight_ms = 0;               ///< both eyes free and the light on
  bool looked_aside = false;          ///< eyes turned 15 degrees and more, by target or by head
  std::vector<Tick> line_ends_ms;     ///< told to look from end to end of a line
  Tick end_ms = 0;
};

/// Simulates the acts once and watches. `acts` in order of time.
Evidence gather_evidence(const ExaminationSetup& setup, std::span<const Act> acts, Chance chance,
                         Tick until_ms);

}  // namespace redress::findings
