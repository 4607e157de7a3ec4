// SPDX-License-Identifier: MIT
// Copyright the Redress authors
//
// What a cohort's marks come to: the figures of the report, and of a rehearsal. Marks 0 ... 100;
// difficulty is the share of marks earned.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "sim/assessment/circuit.hpp"
#include "sim/assessment/marks.hpp"
#include "sim/assessment/rehearsal.hpp"
#include "sim/assessment/standard.hpp"
#include "sim/assessment/statistics.hpp"

namespace redress::assessment {

/// One candidate at one station.
struct CohortMark {
  double marks = 0.0;
  bool unsafe = false;
  bool finished = true;
  std::optional<GlobalRating> rating;
  std::vector<double> shares;  ///< of each rubric item; below 0: not needed here
};

struct CohortRow {
  std::string candidate;
  std::vector<CohortMark> stations;  ///< one for each scored station
  std::vector<std::string> remarks{};  ///< what happened at the desk, for who reads the records
};

/// What a report is made of. Every candidate has every scored station.
struct Cohort {
  Circuit circuit;
  std::vector<CohortRow> rows;
  std::vector<SizePair> sizes;
  Table agreement;               ///< engine by assessors (count_agreement); empty: nobody looked
  std::size_t workstations = 0;  ///< that it was sat at; 0: nobody sat it
  std::string circuit_id;        ///< chooses whom a second assessor marks; empty: nobody
};

struct StationFigures {
  std::size_t station = 0;  ///< of the circuit
  std::string name;
  double difficulty = 0.0;
  std::optional<double> discrimination;
  double mean = 0.0;
  double deviation = 0.0;
  double share_passing = 0.0;
  double share_finishing = 0.0;
  std::optional<double> alpha_without;
  Cut cut;              ///< of this station, by the circuit's standard
  std::string look_at;  ///< what an item review should ask; empty: nothing
};

enum class Decision : unsigned char { pass, fail, board };

struct CandidateFigures {
  std::string candidate;
  double total = 0.0;  ///< mean of the stations
  std::size_t stations_passed = 0;
  Decision decision = Decision::fail;  ///< board: unsafe at a station that is no safety station
  bool near_line = false;              ///< within one error of measurement
  std::vector<std::size_t> unsafe;     ///< stations of the circuit
};

struct LostItem {
  scoring::Item item = scoring::Item::a1;
  double share_of_candidates = 0.0;  ///< who lost half of it or more, of those who met it
  double marks = 0.0;                ///< mean share lost
};

struct CohortFigures {
  std::size_t candidates = 0;
  std::size_t passed = 0;
  Interval passed_interval;  ///< of the share, 95 %
  double mean = 0.0;
  double deviation = 0.0;
  Cut cut;
  StandardMethod standard = StandardMethod::fixed;  ///< that was used
  std::string standard_note;                        ///< why it is not the circuit's; empty: it is
  std::optional<double> alpha;
  double error_of_measurement = 0.0;  ///< of a candidate's total
  std::optional<double> generalisability;
  std::optional<double> dependability;
  std::optional<std::size_t> stations_for_080;
  std::vector<double> projected;  ///< generalisability with 1, 2 ... stations
  std::optional<double> kappa;
  std::size_t overruled = 0;
  std::size_t items_marked = 0;
  std::optional<BlandAltman> sizes;
  std::vector<StationFigures> stations;
  std::vector<CandidateFigures> candidates_in_order;  ///< as in the cohort
  std::vector<LostItem> lost;                         ///< most often first
  /// Everybody near the line and a sample of the others, as indices.
  std::vector<std::size_t> second_marking;
};

/// Needs at least one candidate.
CohortFigures calc_figures(const Cohort& cohort);

std::string_view to_words(Decision decision);
std::string_view to_words(StandardMethod method);

}  // namespace redress::assessment
