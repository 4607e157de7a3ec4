// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// What assessors add to the engine's marks: an item overruled with a reason, a global rating given
// from the replay. One ledger an assessor, append-only and signed like a kept station
// (sim/assessment/station_lines.hpp), with a key that the circuit certified:
//   {"format":"redress-marks","version":1,"circuit":...,"assessor":...,"key":...,"certificate":...,
//    "signature":...}
//   {"candidate":"0417","station":4,"item":"D3","engine":4.5,"marks":9,"reason":...,
//    "signature":...}
//   {"candidate":"0417","station":4,"rating":"borderline","signature":...}
// Nothing is ever removed: a later line on the same thing by the same assessor counts.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "sim/assessment/keys.hpp"
#include "sim/assessment/standard.hpp"
#include "sim/assessment/statistics.hpp"
#include "sim/basics/problem.hpp"
#include "sim/scoring/score.hpp"

namespace redress::assessment {

struct Overruling {
  std::string candidate;
  std::size_t station = 0;  ///< from 0; files say it from 1
  scoring::Item item = scoring::Item::a1;
  double engine = 0.0;  ///< marks, as they were shown to the assessor
  double marks = 0.0;
  std::string reason;
};

struct Rating {
  std::string candidate;
  std::size_t station = 0;
  GlobalRating rating = GlobalRating::fail;
};

/// One assessor's, in order of writing.
struct Ledger {
  std::string assessor;
  std::vector<Overruling> overrulings;
  std::vector<Rating> ratings;
  std::string chain;       ///< of its lines
  bool cut_short = false;  ///< the last line is not whole
};

/// The first line. `key` made for this assessor by make_workstation_key.
std::string begin_ledger(const CircuitId& circuit, const WorkstationKey& key, std::string& chain);
/// Further lines; `chain` is that of the lines before and becomes this one's. Problem: no reason,
/// marks outside 0 ... `most`.
Result<std::string> write_overruling(const Overruling& overruling, double most,
                                     const WorkstationKey& key, std::string& chain);
std::string write_rating(const Rating& rating, const WorkstationKey& key, std::string& chain);

/// Refuses what is altered (with the line) or of another circuit.
Result<Ledger> read_ledger(std::string_view text, const CircuitId& circuit);

/// An item with both marks.
struct FinalItem {
  scoring::Item item = scoring::Item::a1;
  double max = 0.0;
  double engine = 0.0;
  double final = 0.0;                ///< mean of the assessors who overruled it; else the engine's
  std::vector<std::string> reasons;  ///< "assessor: reason"
};

struct FinalMarks {
  double engine_total = 0.0;
  double total = 0.0;  ///< the caps hold still
  bool unsafe = false;
  std::vector<FinalItem> items;
  std::vector<std::pair<std::string, GlobalRating>> ratings;  ///< by assessor

  /// Mean of the assessors', rounded half up; none without one.
  [[nodiscard]] std::optional<GlobalRating> rating() const;
  [[nodiscard]] std::size_t overruled() const;
};

FinalMarks apply_ledgers(const scoring::ScoreSheet& sheet, std::string_view candidate,
                         std::size_t station, std::span<const Ledger> ledgers);

/// Engine by assessors over all marked items, none, half, full: what kappa is computed of.
Table count_agreement(std::span<const FinalMarks> marks);

/// Who should be marked by a second person: everybody within one error of the line, and of the
/// others at least a tenth, chosen by the circuit and not by anybody. Indices into `totals`.
std::vector<std::size_t> choose_for_second_marking(std::span<const std::string> candidates,
                                                   std::span<const double> totals, double line,
                                                   double error, std::string_view circuit_id);

}  // namespace redress::assessment
