// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// What the record screens keep between frames besides the card itself: what is open, what is being
// typed into a small field, a base chosen before its size.
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "render/screens/record/card_editor.hpp"

namespace redress::screens::record {

/// Sections of the card beside the patient, on Ctrl+1 to 6.
enum class Section : std::uint8_t { cover, prism, four_dioptre, reserves, near_point, further };
inline constexpr std::size_t kSectionCount = 6;

/// Rows of the prism test of which some have no value yet.
struct PrismPending {
  std::optional<double> across_pd;
  std::optional<std::size_t> across_base;  ///< 0 in, 1 out
  std::optional<double> up_pd;
  std::optional<std::size_t> up_base;  ///< 0 up, 1 down
  std::optional<std::size_t> before;   ///< 0 right, 1 left
};

/// What is printed on the keys that lead here and away, for the captions.
struct CardKeys {
  std::string card = "N";
  std::string line = "/";
  std::array<std::string, kSectionCount> sections{"Ctrl 1", "Ctrl 2", "Ctrl 3",
                                                  "Ctrl 4", "Ctrl 5", "Ctrl 6"};
};

struct RecordState {
  CardKeys keys;
  bool kept_on_disk = true;  ///< what is typed; false: in memory alone
  std::string clock;         ///< on the whole card instead of the time used; empty: that
  std::string finish = "Finish and see the debrief";
  std::array<bool, kSectionCount> open{true, true, false, false, false, false};
  std::optional<Section> focus;  ///< to be shown and focused in the next frame
  bool focus_line = false;
  bool adding = false;  ///< the condition to be added is being chosen
  double add_distance_m = 1.0;
  bool more_impressions = false;
  std::string impression_text;
  PrismPending prism;
  Condition prism_at{-1, false};  ///< what `prism` belongs to
  std::optional<int> control_distance;
  std::optional<int> control_near;
  std::optional<std::size_t> reflexes;
  std::optional<std::size_t> gazes;
  std::vector<std::pair<std::string, std::string>> texts;  ///< by field, while it is being typed
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
