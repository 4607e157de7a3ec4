// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// What the record screens keep between frames besides the card itself: what is open, what is being
// typed into a small field, a base chosen before its size.
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <map>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "render/screens/record/card_editor.hpp"
#include "sim/findings/department.hpp"

namespace redress::screens::record {

/// Sections of the card beside the patient, on Ctrl+1 to 8.
enum class Section : std::uint8_t {
  cover,
  prism,
  four_dioptre,
  reserves,
  near_point,
  control,  ///< and corneal reflexes
  gazes,    ///< and tilts of the head
  seen,     ///< what moved, and all that stands beside a size
};
inline constexpr std::size_t kSectionCount = 8;

/// Rows of the prism test of which some have no value yet.
struct PrismPending {
  std::optional<double> across_pd;
  std::optional<std::size_t> across_base;  ///< 0 in, 1 out
  std::optional<double> up_pd;
  std::optional<std::size_t> up_base;  ///< 0 up, 1 down
  std::optional<std::size_t> before;   ///< 0 right, 1 left
};

/// A direction chosen before its size, as for the rows of the cover test.
struct PendingWays {
  int across = 0;  ///< eso +
  int up = 0;      ///< right eye higher +
};

/// The gaze or tilt that is being written: right, up, towards the right shoulder +, in steps.
struct GazePlace {
  int across = 0;
  int up = 0;
  int tilt = 0;
  std::optional<FindingEye> fixing;
  bool operator==(const GazePlace&) const = default;
};

/// What is printed on the keys that lead here and away, for the captions.
struct CardKeys {
  std::string card = "N";
  std::string line = "/";
  std::array<std::string, kSectionCount> sections{"Ctrl 1", "Ctrl 2", "Ctrl 3", "Ctrl 4",
                                                  "Ctrl 5", "Ctrl 6", "Ctrl 7", "Ctrl 8"};
};

struct RecordState {
  CardKeys keys;
  bool kept_on_disk = true;  ///< what is typed; false: in memory alone
  std::string clock;         ///< on the whole card instead of the time used; empty: that
  std::string finish = "Finish and see the debrief";
  std::array<bool, kSectionCount> open{true, true};
  std::optional<Section> focus;  ///< to be shown and focused in the next frame
  bool focus_line = false;
  bool focus_impression = false;  ///< the whole card was opened to write it
  bool adding = false;            ///< the condition to be added is being chosen
  double add_distance_m = 1.0;
  std::optional<std::size_t> impressions_open = 2;  ///< group of the taxonomy; the same for all
  std::string impression_text;
  PrismPending prism;
  Condition prism_at{-1, false};  ///< what `prism` belongs to
  PendingWays reflex_ways;
  GazePlace gaze;
  PendingWays gaze_ways;
  /// What departments call the four steps of urgency, and which one is this one's.
  std::vector<findings::Department> departments;
  std::optional<std::size_t> department;
  std::vector<std::pair<std::string, std::string>> texts;  ///< by field, while it is being typed
  std::map<std::string, float> panel_heights;              ///< by title, of the last frame
  float card_height = 2000;                                ///< of the content in the last frame
  float page_height = 2000;
  float side_height = 2000;
};

struct RecordOutcome {
  std::vector<Finding> notes;  ///< settled in this frame: to become acts
  bool back = false;           ///< to the patient
  bool whole = false;          ///< the whole card: impression and plan
  bool finish = false;         ///< the card is handed in
};

}  // namespace redress::screens::record
