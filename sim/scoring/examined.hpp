// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// An examination laid out for marking: the places at which the case wants the eyes tested, what was
// done and written at each, and what is there.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "sim/cases/case.hpp"
#include "sim/findings/evidence.hpp"
#include "sim/findings/record_card.hpp"
#include "sim/room/examination.hpp"
#include "sim/truth/truth.hpp"

namespace redress::scoring {

/// One distance that is called for. Pointers go into the evidence and the card of the Examined that
/// holds it.
struct Place {
  std::string name;  ///< "6 m", "near", "far distance"
  double nominal_m = 6.0;
  double low_m = 0.0;  ///< distances that count as this one, marked as such
  double high_m = 0.0;
  // As used: the distance and correction of the covers made here; as called for if there were none.
  double used_m = 6.0;
  bool used_spectacles = false;
  PerEye<double> used_lenses_d{};  ///< trial lenses
  /// Of the target against the head, below 0 where an addition was looked through; else 0.
  double used_gaze_deg = 0.0;
  /// Covered only with the head in the posture that this patient takes: what is there, is there so.
  bool own_posture = false;
  /// To be worn here: those that are owned, unless they are for another distance.
  bool right_spectacles = false;
  /// Tested with those, or through trial lenses, and the target could be seen clearly.
  bool right_correction = false;
  PerEye<truth::Condition> there;  ///< at the distance and correction used, by the fixing eye
  std::vector<const findings::CoverSpan*> covers;
  /// Behind which the cover was alternated, or that came with a cover.
  std::vector<const findings::PrismStep*> steps;
  /// With a spasm that comes and goes: what is there when it has let go. What is seen lies between.
  std::optional<PerEye<truth::Condition>> let_go;
  /// One eye sees nothing to look at, so that no cover moves it, and the reflexes were looked at:
  /// they stand for what covers cannot show.
  bool by_reflexes = false;
  std::vector<const findings::PrismStep*> open_steps;  ///< prisms with both eyes open
  const findings::WrittenFinding* cover_entry = nullptr;
  const findings::WrittenFinding* prism_entry = nullptr;

  [[nodiscard]] bool attempted() const { return !covers.empty(); }
  /// As used: distance, correction and posture of the head.
  [[nodiscard]] bool is_used_at(const findings::Setting& setting) const;
  [[nodiscard]] Opening as_used() const;
  /// Horizontal 2 or vertical 1 and more.
  [[nodiscard]] bool is_seen() const;
  /// Latent or manifest apart, 0 ... 3: nothing seen, latent, intermittent, constant.
  [[nodiscard]] int rank() const;
};

struct Examined {
  const Case& the_case;
  const ExaminationSetup& setup;
  const truth::Truth& truth;
  findings::Evidence evidence;
  findings::RecordCard card;
  std::vector<Place> places;   ///< 6 m, near, and far distance where it differs
  std::size_t main_place = 0;  ///< where most is to be found

  /// What is there in a state in which `alike` was tested as well, the same patient's, is taken
  /// from it.
  Examined(const Case& c, const ExaminationSetup& s, findings::Evidence e, const truth::Truth& t,
           const Examined* alike = nullptr);
  Examined(const Examined&) = delete;
  Examined& operator=(const Examined&) = delete;
};

/// One number read off the eyes.
struct Reading {
  const findings::WrittenFinding* entry = nullptr;
  bool by_eye = false;
  std::optional<double> horizontal_pd;
  std::optional<double> vertical_pd;
  bool manifest_only = false;  ///< prism and cover at once
  Eye fixing = Eye::right;     ///< with a prism before one eye the other one fixes
};

// ------------------------------------------------------------------------------- the evidence rule

/// The head straight or as the patient holds it; or, where an addition is worn, the target so low
/// that it is looked through.
bool is_for_cover_test(const ExaminationSetup& setup, const findings::Setting& setting);
/// A cover long enough, at a target that the eye left free can make out, with a moving eye in view.
bool shows(const findings::CoverSpan& span);
/// Both eyes were covered, each by itself, for however long.
bool did_unilateral(const Place& place);
/// The longest run of transfers without a break.
struct Alternation {
  int transfers = 0;
  int glimpses = 0;       ///< both eyes saw for longer than 150 ms in between
  int short_dwells = 0;   ///< less than 1 s on one eye
  bool regained = false;  ///< single vision came back in a glimpse
  Tick from_ms = 0;
  [[nodiscard]] double share() const;  ///< rubric C1
};
Alternation find_alternation(const Place& place);
/// Enough was done at this place to be called a test: each eye covered by itself, or a proper
/// alternation. Covers that come and go without sense are no test.
bool is_tested(const Place& place);
/// The prisms behind which the cover was alternated there and back.
std::vector<const findings::PrismStep*> measuring_steps(const Place& place);

/// Both eyes were covered so, each by itself: class and eye can be told.
bool has_class_evidence(const Place& place);
/// A movement's direction and rough size could be seen.
bool has_movement_evidence(const Place& place);
/// A prism like the written size stood before the eyes and the cover was alternated.
bool has_prism_evidence(const Place& place, const Finding& finding);
/// The eye was seen to come back.
bool has_recovery_evidence(const Place& place);
/// Whether an entry of any kind could have been shown by what was done.
bool has_evidence(const Examined& examined, const findings::WrittenFinding& entry);

/// The size that counts at a place: by prism if it was measured, else as estimated; nothing without
/// evidence.
std::optional<Reading> find_reading(const Place& place);

/// The key questions: the case's own; if it names none those of every history, since when and is it
/// double, as far as the case answers them.
std::vector<std::string> find_key_questions(const Case& the_case);
/// When a key question was first asked; `key` none: any of them.
std::optional<Tick> find_key_question(const Examined& examined,
                                      std::optional<std::string_view> key = std::nullopt);
bool answers(const Case& the_case, std::string_view key);

}  // namespace redress::scoring
