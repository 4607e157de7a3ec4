// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// The record card as it stands when the examination ends: of several entries for the same thing the
// latest counts. Contradictions are pointed out and kept; whoever writes decides.
#pragma once

#include <nlohmann/json.hpp>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "sim/findings/evidence.hpp"

namespace redress::findings {

struct Contradiction {
  Tick at_ms = 0;    ///< of the later entry
  std::string what;  ///< one plain sentence
};

struct RecordCard {
  std::vector<WrittenFinding> entries;  ///< those that count, in order of writing
  std::vector<Contradiction> contradictions;
};

/// Entries are for the same thing if test, distance (within 10 %) and correction agree; for the
/// four-dioptre test and reserves the eye and the base as well, for gazes the position (within 5°)
/// and the fixing eye, for reflexes the method.
bool is_same_thing(const Finding& a, const Finding& b);

RecordCard make_card(std::span<const WrittenFinding> notes);
RecordCard make_card(std::span<const Act> acts);

/// The entry of this test at this distance and correction; null where there is none. An entry that
/// does not say its correction matches either.
const WrittenFinding* find_entry(const RecordCard& card, FindingTest test, double distance_m,
                                 bool spectacles, std::optional<FindingEye> eye = std::nullopt);

/// Whether its size is a prism's label, by its method or, where none is said, its test.
bool is_by_prism(const Finding& finding);

/// {"entries": [{"at_ms", "finding": as in acts}], "contradictions": [{"at_ms", "what"}]}
nlohmann::json to_json(const RecordCard& card);

}  // namespace redress::findings
